//! What each method does and refuses, after the platform's reference.

use std::time::Instant;

use serde_json::{Map, Value, json};

use super::{BOT_HANDLE, BOT_ID, Message, Person, Press, Room, RoomKind, State, Webhook, markup};

const METHODS: [&str; 22] = [
    "getMe",
    "getUpdates",
    "getWebhookInfo",
    "setWebhook",
    "deleteWebhook",
    "sendMessage",
    "sendPhoto",
    "sendDocument",
    "editMessageText",
    "editMessageCaption",
    "editMessageReplyMarkup",
    "deleteMessage",
    "setMessageReaction",
    "answerCallbackQuery",
    "setMyCommands",
    "getMyCommands",
    "getChat",
    "getChatMember",
    "getChatAdministrators",
    "leaveChat",
    "pinChatMessage",
    "sendChatAction",
];

const REACTIONS: [&str; 6] = ["👍", "👎", "❤", "🔥", "👌", "🙏"];

type Params = Map<String, Value>;

/// A refusal.
#[derive(Clone, Debug)]
pub struct Denial {
    pub code: u16,
    pub words: String,
    pub retry_after: Option<u64>,
    pub migrate_to: Option<i64>,
}

impl Denial {
    pub fn new(code: u16, words: &str) -> Denial {
        Denial { code, words: words.to_owned(), retry_after: None, migrate_to: None }
    }

    pub fn too_many(seconds: u64) -> Denial {
        let words = format!("Too Many Requests: retry after {seconds}");
        Denial { retry_after: Some(seconds), ..Denial::new(429, &words) }
    }
}

fn bad<T>(words: &str) -> Result<T, Denial> {
    Err(Denial::new(400, &format!("Bad Request: {words}")))
}

/// The name of a method as documented; names are compared without case.
pub fn canonical(name: &str) -> Option<&'static str> {
    METHODS.into_iter().find(|method| method.eq_ignore_ascii_case(name))
}

pub fn perform(
    state: &mut State,
    method: &str,
    params: &Params,
    files: &[(String, Vec<u8>)],
) -> Result<Value, Denial> {
    match method {
        "getMe" => Ok(me(state)),
        "getWebhookInfo" => Ok(json!({
            "url": state.webhook.as_ref().map_or("", |webhook| webhook.url.as_str()),
            "has_custom_certificate": false,
            "pending_update_count": state.pending.len(),
        })),
        "setWebhook" => set_webhook(state, params),
        "deleteWebhook" => {
            state.webhook = None;
            if params.get("drop_pending_updates") == Some(&Value::Bool(true)) {
                state.pending.clear();
            }
            Ok(Value::Bool(true))
        }
        "sendMessage" => {
            let (text, _) = words(params, "text", 4096)?;
            if text.trim().is_empty() {
                return bad("message text is empty");
            }
            new_message(state, params, text, None)
        }
        "sendPhoto" | "sendDocument" => {
            let field = if method == "sendPhoto" { "photo" } else { "document" };
            let (caption, _) = words(params, "caption", 1024)?;
            let file = files.iter().find(|(name, _)| name == field);
            let Some((_, bytes)) = file else { return bad("there is no file in the request") };
            let is_picture =
                bytes.starts_with(b"\x89PNG\r\n\x1a\n") || bytes.starts_with(b"\xff\xd8");
            if method == "sendPhoto" && !is_picture {
                return bad("IMAGE_PROCESS_FAILED");
            }
            new_message(state, params, caption, Some(bytes.len()))
        }
        "editMessageText" => edit_words(state, params, Edited::Text),
        "editMessageCaption" => edit_words(state, params, Edited::Caption),
        "editMessageReplyMarkup" => {
            let buttons = buttons(params)?;
            let message = own_message(state, params)?;
            if message.buttons == buttons {
                return bad(
                    "message is not modified: specified new message content and reply markup \
                            are exactly the same as a current content and reply markup of the message",
                );
            }
            message.buttons = buttons;
            message.edits += 1;
            message.json["reply_markup"] = markup_of(params);
            Ok(message.json.clone())
        }
        "deleteMessage" => {
            let id = number(params, "message_id")?;
            match room(state, params)?.messages.remove(&id) {
                Some(_) => Ok(Value::Bool(true)),
                None => bad("message to delete not found"),
            }
        }
        "setMessageReaction" => react(state, params),
        "answerCallbackQuery" => answer_press(state, params),
        "setMyCommands" => set_commands(state, params),
        "getMyCommands" => {
            Ok(state.commands.get(&menu_of(params)).cloned().unwrap_or_else(|| json!([])))
        }
        "getChat" => {
            let room = room(state, params)?;
            let mut chat = room.chat();
            chat["accent_color_id"] = json!(0);
            chat["max_reaction_count"] = json!(11);
            chat["accepted_gift_types"] = json!({
                "unlimited_gifts": false, "limited_gifts": false, "unique_gifts": false,
                "premium_subscription": false, "gifts_from_channels": false,
            });
            Ok(chat)
        }
        "getChatMember" => {
            let id = number(params, "user_id")?;
            let room = room(state, params)?;
            let member = room.members.iter().find(|person| person.id == id);
            let known = member.map(Person::json);
            let is_admin = room.admins.contains(&id);
            Ok(match known {
                Some(user) if is_admin => json!({
                    "status": "creator", "user": user, "is_anonymous": false,
                }),
                Some(user) => json!({ "status": "member", "user": user }),
                None => json!({
                    "status": "left",
                    "user": { "id": id, "is_bot": false, "first_name": "Somebody" },
                }),
            })
        }
        "getChatAdministrators" => {
            let room = room(state, params)?;
            let admins = room.members.iter().filter(|person| room.admins.contains(&person.id));
            let admins = admins.map(|person| {
                json!({
                    "status": "creator", "user": person.json(), "is_anonymous": false,
                })
            });
            Ok(admins.collect())
        }
        "leaveChat" => {
            room(state, params)?.bot_in = false;
            Ok(Value::Bool(true))
        }
        "pinChatMessage" | "sendChatAction" => room(state, params).map(|_| Value::Bool(true)),
        other => panic!("no rule for {other}"),
    }
}

pub fn bot() -> Value {
    json!({ "id": BOT_ID, "is_bot": true, "first_name": "Larder", "username": BOT_HANDLE })
}

/// What an administrator may do, as far as the platform tells.
pub fn rights() -> Value {
    let rights = [
        "can_be_edited",
        "is_anonymous",
        "can_manage_chat",
        "can_delete_messages",
        "can_manage_video_chats",
        "can_restrict_members",
        "can_promote_members",
        "can_change_info",
        "can_invite_users",
        "can_post_stories",
        "can_edit_stories",
        "can_delete_stories",
        "can_send_welcome_messages",
    ];
    rights.into_iter().map(|right| (right.to_owned(), json!(right == "can_manage_chat"))).collect()
}

fn me(state: &State) -> Value {
    let mut me = bot();
    me["can_join_groups"] = json!(true);
    me["can_read_all_group_messages"] = json!(!state.privacy);
    me["supports_inline_queries"] = json!(false);
    me["can_connect_to_business"] = json!(false);
    me["has_main_web_app"] = json!(false);
    me
}

fn set_webhook(state: &mut State, params: &Params) -> Result<Value, Denial> {
    let url = params.get("url").and_then(Value::as_str).unwrap_or_default().to_owned();
    let secret = params.get("secret_token").and_then(Value::as_str).unwrap_or_default().to_owned();
    let plain = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
    if !(1..=256).contains(&secret.len()) || !secret.bytes().all(plain) {
        return bad("secret token contains illegal characters");
    }
    if let Some(kinds) = params.get("allowed_updates").and_then(Value::as_array) {
        state.allowed = Some(kinds.iter().filter_map(Value::as_str).map(str::to_owned).collect());
    }
    state.webhook = Some(Webhook { url, secret });
    Ok(Value::Bool(true))
}

fn set_commands(state: &mut State, params: &Params) -> Result<Value, Denial> {
    let commands = params.get("commands").cloned().unwrap_or_default();
    let list = commands.as_array().cloned().unwrap_or_default();
    for command in &list {
        let name = command["command"].as_str().unwrap_or_default();
        let plain = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_';
        if !(1..=32).contains(&name.len()) || !name.bytes().all(plain) {
            return bad("BOT_COMMAND_INVALID");
        }
        let words = command["description"].as_str().unwrap_or_default().chars().count();
        if !(1..=256).contains(&words) {
            return bad("BOT_COMMAND_DESCRIPTION_INVALID");
        }
    }
    state.commands.insert(menu_of(params), commands);
    Ok(Value::Bool(true))
}

/// Which menu a request is about: its scope and its language.
fn menu_of(params: &Params) -> (String, String) {
    let scope = params.get("scope").and_then(|scope| scope["type"].as_str());
    let language = params.get("language_code").and_then(Value::as_str);
    (scope.unwrap_or("default").to_owned(), language.unwrap_or_default().to_owned())
}

/// The words of a parameter, without the markup, within `limit`.
fn words(params: &Params, field: &str, limit: usize) -> Result<(String, String), Denial> {
    let raw = params.get(field).and_then(Value::as_str).unwrap_or_default().to_owned();
    let text = match params.get("parse_mode").and_then(Value::as_str) {
        Some("HTML") => match markup::text_of(&raw) {
            Ok(text) => text,
            Err(fault) => return bad(&format!("can't parse entities: {fault}")),
        },
        None => raw.clone(),
        Some(_) => return bad("unsupported parse_mode"),
    };
    if text.encode_utf16().count() > limit {
        return bad("message is too long");
    }
    Ok((text, raw))
}

fn number(params: &Params, field: &str) -> Result<i64, Denial> {
    match params.get(field).and_then(Value::as_i64) {
        Some(number) => Ok(number),
        None => bad(&format!("{field} is not specified")),
    }
}

/// The chat a request is for, if the bot may speak in it.
fn room<'a>(state: &'a mut State, params: &Params) -> Result<&'a mut Room, Denial> {
    let id = number(params, "chat_id")?;
    if let Some(until) = state.paused.get(&id) {
        let left = until.saturating_duration_since(Instant::now());
        if !left.is_zero() {
            state.hammered += 1;
            return Err(Denial::too_many(left.as_secs().max(1)));
        }
    }
    let Some(room) = state.rooms.get_mut(&id) else { return bad("chat not found") };
    if let Some(to) = room.moved_to {
        let words = "Bad Request: group chat was upgraded to a supergroup chat";
        return Err(Denial { migrate_to: Some(to), ..Denial::new(400, words) });
    }
    if !room.bot_in {
        return Err(Denial::new(
            403,
            match room.kind {
                RoomKind::Private => "Forbidden: bot was blocked by the user",
                RoomKind::Group => "Forbidden: bot was kicked from the group chat",
                RoomKind::Supergroup => "Forbidden: bot was kicked from the supergroup chat",
            },
        ));
    }
    Ok(room)
}

fn markup_of(params: &Params) -> Value {
    params.get("reply_markup").cloned().unwrap_or_else(|| json!({ "inline_keyboard": [] }))
}

/// The inline buttons of a request: label and data.
fn buttons(params: &Params) -> Result<Vec<(String, String)>, Denial> {
    let markup = markup_of(params);
    let mut buttons = Vec::new();
    for row in markup["inline_keyboard"].as_array().cloned().unwrap_or_default() {
        let row = row.as_array().cloned().unwrap_or_default();
        if row.len() > 8 {
            return bad("BUTTON_ROW_TOO_LONG");
        }
        for button in row {
            let label = button["text"].as_str().unwrap_or_default().to_owned();
            let data = button["callback_data"].as_str().unwrap_or_default().to_owned();
            if label.is_empty() {
                return bad("BUTTON_TEXT_EMPTY");
            }
            if !(1..=64).contains(&data.len()) {
                return bad("BUTTON_DATA_INVALID");
            }
            buttons.push((label, data));
        }
    }
    Ok(buttons)
}

fn new_message(
    state: &mut State,
    params: &Params,
    text: String,
    picture: Option<usize>,
) -> Result<Value, Denial> {
    let now = state.now();
    let buttons = buttons(params)?;
    let room = room(state, params)?;
    let topic = params.get("message_thread_id").and_then(Value::as_i64);
    if topic.is_some_and(|topic| !room.topics.contains(&topic)) {
        return bad("message thread not found");
    }
    let reply = &params.get("reply_parameters").cloned().unwrap_or_default();
    let reply_to = reply["message_id"].as_i64();
    let found = reply_to.filter(|id| room.messages.contains_key(id));
    let may_miss = reply["allow_sending_without_reply"].as_bool() == Some(true);
    if reply_to.is_some() && found.is_none() && !may_miss {
        return bad("message to be replied not found");
    }
    let id = room.next();
    let mut message = json!({
        "message_id": id, "date": now, "chat": room.chat(), "from": bot(),
    });
    if let Some(bytes) = picture {
        message["photo"] = json!([{
            "file_id": format!("photo-{id}"), "file_unique_id": format!("unique-{id}"),
            "width": 800, "height": 460, "file_size": bytes,
        }]);
        message["caption"] = json!(text);
    } else {
        message["text"] = json!(text);
    }
    if let Some(answered) = found.and_then(|id| room.messages.get(&id)) {
        message["reply_to_message"] = answered.json.clone();
        message["reply_to_message"].as_object_mut().unwrap().remove("reply_to_message");
    }
    if let Some(topic) = topic {
        message["message_thread_id"] = json!(topic);
        message["is_topic_message"] = json!(true);
    }
    if !buttons.is_empty() {
        message["reply_markup"] = markup_of(params);
    }
    let silent = params.get("disable_notification") == Some(&Value::Bool(true));
    room.messages.insert(
        id,
        Message {
            id,
            by_bot: true,
            text,
            buttons,
            reply_to: found,
            topic,
            silent,
            picture,
            reaction: None,
            edits: 0,
            json: message.clone(),
        },
    );
    Ok(message)
}

/// A message of the bot's own.
fn own_message<'a>(state: &'a mut State, params: &Params) -> Result<&'a mut Message, Denial> {
    let id = number(params, "message_id")?;
    match room(state, params)?.messages.get_mut(&id) {
        Some(message) if message.by_bot => Ok(message),
        Some(_) => bad("message can't be edited"),
        None => bad("message to edit not found"),
    }
}

/// The words of a message, or those under a picture.
#[derive(Clone, Copy, PartialEq)]
enum Edited {
    Text,
    Caption,
}

fn edit_words(state: &mut State, params: &Params, what: Edited) -> Result<Value, Denial> {
    let now = state.now();
    let (field, limit) = match what {
        Edited::Text => ("text", 4096),
        Edited::Caption => ("caption", 1024),
    };
    let (text, _) = words(params, field, limit)?;
    if text.trim().is_empty() && what == Edited::Text {
        return bad("message text is empty");
    }
    let buttons = buttons(params)?;
    let message = own_message(state, params)?;
    match (what, message.picture) {
        (Edited::Text, Some(_)) => return bad("there is no text in the message to edit"),
        (Edited::Caption, None) => return bad("there is no caption in the message to edit"),
        (Edited::Text, None) | (Edited::Caption, Some(_)) => {}
    }
    if message.text == text && message.buttons == buttons {
        return bad("message is not modified: specified new message content and reply markup are \
                    exactly the same as a current content and reply markup of the message");
    }
    message.text.clone_from(&text);
    message.json[field] = json!(text);
    message.json["edit_date"] = json!(now);
    if buttons.is_empty() {
        message.json.as_object_mut().unwrap().remove("reply_markup");
    } else {
        message.json["reply_markup"] = markup_of(params);
    }
    message.buttons = buttons;
    message.edits += 1;
    Ok(message.json.clone())
}

fn react(state: &mut State, params: &Params) -> Result<Value, Denial> {
    let id = number(params, "message_id")?;
    let reactions = params.get("reaction").and_then(Value::as_array).cloned().unwrap_or_default();
    let room = room(state, params)?;
    let Some(message) = room.messages.get_mut(&id) else {
        return bad("message to react not found");
    };
    let emoji = reactions.first().and_then(|reaction| reaction["emoji"].as_str());
    if reactions.len() > 1 || emoji.is_some_and(|emoji| !REACTIONS.contains(&emoji)) {
        return bad("REACTION_INVALID");
    }
    message.reaction = emoji.map(str::to_owned);
    Ok(Value::Bool(true))
}

fn answer_press(state: &mut State, params: &Params) -> Result<Value, Denial> {
    let id = params.get("callback_query_id").and_then(Value::as_str).unwrap_or_default();
    let text = params.get("text").and_then(Value::as_str).map(str::to_owned);
    if text.as_ref().is_some_and(|text| text.chars().count() > 200) {
        return bad("MESSAGE_TOO_LONG");
    }
    match state.presses.get_mut(id) {
        Some(press @ Press { answered: false, .. }) => {
            *press = Press { answered: true, text };
            Ok(Value::Bool(true))
        }
        _ => bad("query is too old and response timeout expired or query ID is invalid"),
    }
}
