//! What people do: the updates their doings become.

use serde_json::{Value, json};

use super::{BOT_HANDLE, BOT_ID, Message, Messenger, Press, Room, RoomKind, State, rules};

/// Somebody with an account.
#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    pub id: i64,
    pub name: String,
    pub language: Option<&'static str>,
    pub is_bot: bool,
}

impl Person {
    pub fn new(id: i64, name: &str) -> Person {
        Person { id, name: name.to_owned(), language: Some("en"), is_bot: false }
    }

    /// Another bot.
    pub fn bot(id: i64, name: &str) -> Person {
        Person { is_bot: true, language: None, ..Person::new(id, name) }
    }

    pub fn json(&self) -> Value {
        let mut user = json!({ "id": self.id, "is_bot": self.is_bot, "first_name": self.name });
        if let Some(language) = self.language {
            user["language_code"] = json!(language);
        }
        user
    }
}

/// Something that is not text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Item {
    Photo,
    Voice,
    Sticker,
    Document,
    Poll,
}

impl Room {
    pub(super) fn next(&mut self) -> i64 {
        self.next_message += 1;
        self.next_message
    }

    pub(super) fn chat(&self) -> Value {
        match self.kind {
            RoomKind::Private => {
                json!({ "id": self.id, "type": "private", "first_name": self.title })
            }
            RoomKind::Group => json!({ "id": self.id, "type": "group", "title": self.title }),
            RoomKind::Supergroup => {
                let mut chat = json!({ "id": self.id, "type": "supergroup", "title": self.title });
                if !self.topics.is_empty() {
                    chat["is_forum"] = json!(true);
                }
                chat
            }
        }
    }
}

impl State {
    fn room(&mut self, chat: i64) -> &mut Room {
        self.rooms.get_mut(&chat).unwrap_or_else(|| panic!("no chat {chat}"))
    }

    fn open(&mut self, id: i64, kind: RoomKind, title: &str, members: &[&Person]) {
        let room = Room {
            id,
            kind,
            title: title.to_owned(),
            bot_in: true,
            bot_is_admin: false,
            moved_to: None,
            members: members.iter().map(|person| (*person).clone()).collect(),
            admins: members.first().map(|person| person.id).into_iter().collect(),
            topics: Vec::new(),
            messages: Default::default(),
            next_message: 0,
        };
        self.rooms.insert(id, room);
    }

    /// A new message of somebody's, kept in its chat and ready to be an update.
    fn write(&mut self, chat: i64, text: &str, extra: Value) -> (i64, Value) {
        let now = self.now();
        let room = self.room(chat);
        let id = room.next();
        let mut json = json!({ "message_id": id, "date": now, "chat": room.chat() });
        merge(&mut json, extra);
        if json["text"].as_str().is_some_and(|text| text.starts_with('/')) {
            let length =
                text.split_whitespace().next().map_or(0, |word| word.encode_utf16().count());
            json["entities"] = json!([{ "type": "bot_command", "offset": 0, "length": length }]);
        }
        room.messages.insert(
            id,
            Message {
                id,
                by_bot: false,
                text: text.to_owned(),
                buttons: Vec::new(),
                reply_to: None,
                topic: json["message_thread_id"].as_i64(),
                silent: false,
                picture: None,
                reaction: None,
                edits: 0,
                json: json.clone(),
            },
        );
        (id, json)
    }

    fn hears(&self, chat: i64, text: &str, answers_bot: bool) -> bool {
        let private = self.rooms.get(&chat).is_some_and(|room| room.kind == RoomKind::Private);
        let room = self.rooms.get(&chat);
        !self.privacy
            || room.is_some_and(|room| room.bot_is_admin)
            || private
            || text.is_empty()
            || answers_bot
            || text.contains(&format!("@{BOT_HANDLE}"))
            || text.starts_with('/')
    }
}

fn merge(into: &mut Value, extra: Value) {
    let (Value::Object(into), Value::Object(extra)) = (into, extra) else { return };
    into.extend(extra);
}

impl Messenger {
    /// A group that has let the bot in; the first member is its administrator.
    pub fn group(&self, id: i64, title: &str, members: &[&Person]) -> i64 {
        let kind = if id < -1_000_000_000_000 { RoomKind::Supergroup } else { RoomKind::Group };
        self.lock().open(id, kind, title, members);
        self.lets_bot_in(members[0], id);
        id
    }

    /// A group that somebody in it has let the bot into; the first member is its administrator.
    pub fn group_let_in_by(&self, id: i64, title: &str, members: &[&Person], by: &Person) {
        self.lock().open(id, RoomKind::Group, title, members);
        self.lets_bot_in(by, id);
    }

    /// A group that has let the bot in with this standing.
    pub fn lets_bot_in_as(&self, person: &Person, id: i64, title: &str, status: &str) {
        {
            let mut state = self.lock();
            state.open(id, RoomKind::Group, title, &[person]);
            state.room(id).bot_is_admin = status == "administrator";
        }
        self.standing(person, id, "left", status);
    }

    /// A channel that has taken the bot on.
    pub fn lets_bot_into_channel(&self, person: &Person, id: i64) {
        let content = {
            let mut state = self.lock();
            state.open(id, RoomKind::Supergroup, "News", &[person]);
            let member = |status: &str| json!({ "status": status, "user": rules::bot() });
            let mut admin = member("administrator");
            merge(&mut admin, rules::rights());
            json!({
                "chat": { "id": id, "type": "channel", "title": "News" }, "from": person.json(),
                "date": state.now(), "old_chat_member": member("left"), "new_chat_member": admin,
            })
        };
        self.deliver("my_chat_member", content);
    }

    /// A private chat with the bot.
    pub fn private(&self, person: &Person) -> i64 {
        self.lock().open(person.id, RoomKind::Private, &person.name, &[person]);
        person.id
    }

    pub fn lets_bot_in(&self, person: &Person, chat: i64) {
        self.lock().room(chat).bot_in = true;
        self.standing(person, chat, "left", "member");
    }

    /// Removes the bot from a group, or blocks it in private.
    pub fn removes_bot(&self, person: &Person, chat: i64) {
        self.lock().room(chat).bot_in = false;
        self.standing(person, chat, "member", "kicked");
    }

    fn standing(&self, person: &Person, chat: i64, before: &str, after: &str) {
        let content = {
            let mut state = self.lock();
            let now = state.now();
            let member = |status: &str| {
                let mut member = json!({ "status": status, "user": rules::bot() });
                if status == "kicked" {
                    member["until_date"] = json!(0);
                }
                if status == "administrator" {
                    merge(&mut member, rules::rights());
                }
                member
            };
            json!({
                "chat": state.room(chat).chat(), "from": person.json(), "date": now,
                "old_chat_member": member(before), "new_chat_member": member(after),
            })
        };
        self.deliver("my_chat_member", content);
    }

    /// Writes a text; its number.
    pub fn says(&self, person: &Person, chat: i64, text: &str) -> i64 {
        self.posts(chat, text, json!({ "from": person.json(), "text": text }))
    }

    /// Writes a text in a topic of a group with topics.
    pub fn says_in(&self, person: &Person, chat: i64, topic: i64, text: &str) -> i64 {
        let extra = json!({
            "from": person.json(), "text": text, "message_thread_id": topic,
            "is_topic_message": true,
        });
        self.posts(chat, text, extra)
    }

    /// Answers a message.
    pub fn answers(&self, person: &Person, chat: i64, message: i64, text: &str) -> i64 {
        let mut answered = self.lock().message(chat, message).expect("a message").json.clone();
        answered.as_object_mut().unwrap().remove("reply_to_message");
        let extra = json!({ "from": person.json(), "text": text, "reply_to_message": answered });
        self.posts(chat, text, extra)
    }

    /// Writes as the group itself: an unnamed administrator.
    pub fn says_unnamed(&self, chat: i64, text: &str) -> i64 {
        let sender = self.lock().room(chat).chat();
        let stand_in = json!({
            "id": 1_087_968_824, "is_bot": true, "first_name": "Group",
            "username": "GroupAnonymousBot",
        });
        self.posts(chat, text, json!({ "from": stand_in, "sender_chat": sender, "text": text }))
    }

    /// Writes through another bot.
    pub fn says_through(&self, person: &Person, bot: &Person, chat: i64, text: &str) -> i64 {
        let extra = json!({ "from": person.json(), "via_bot": bot.json(), "text": text });
        self.posts(chat, text, extra)
    }

    /// Sends what is not text.
    pub fn sends(&self, person: &Person, chat: i64, item: Item, caption: &str) -> i64 {
        let file = |name: &str| json!({ "file_id": name, "file_unique_id": format!("u-{name}") });
        let mut extra = json!({ "from": person.json() });
        match item {
            Item::Photo => {
                let mut photo = file("photo");
                merge(&mut photo, json!({ "width": 90, "height": 90 }));
                extra["photo"] = json!([photo]);
            }
            Item::Voice => {
                extra["voice"] = file("voice");
                extra["voice"]["duration"] = json!(3);
            }
            Item::Sticker => {
                extra["sticker"] = file("sticker");
                merge(
                    &mut extra["sticker"],
                    json!({
                        "type": "regular", "width": 512, "height": 512,
                        "is_animated": false, "is_video": false,
                    }),
                );
            }
            Item::Document => extra["document"] = file("document"),
            Item::Poll => {
                extra["poll"] = json!({
                    "id": "1", "question": "Soup?", "total_voter_count": 0, "is_closed": false,
                    "is_anonymous": true, "type": "regular", "allows_multiple_answers": false,
                    "options": [
                        { "text": "yes", "voter_count": 0, "persistent_id": "a" },
                        { "text": "no", "voter_count": 0, "persistent_id": "b" },
                    ],
                    "allows_revoting": true, "members_only": false,
                })
            }
        }
        if !caption.is_empty() {
            extra["caption"] = json!(caption);
        }
        self.posts(chat, caption, extra)
    }

    /// Sends a picture that belongs to an album.
    pub fn sends_in_album(&self, person: &Person, chat: i64, album: &str) -> i64 {
        let photo = json!([{
            "file_id": "photo", "file_unique_id": "u-photo", "width": 90, "height": 90,
        }]);
        let extra = json!({ "from": person.json(), "photo": photo, "media_group_id": album });
        self.posts(chat, "", extra)
    }

    fn posts(&self, chat: i64, text: &str, extra: Value) -> i64 {
        let answers_bot = extra["reply_to_message"]["from"]["id"] == json!(BOT_ID);
        let (id, json, heard) = {
            let mut state = self.lock();
            let (id, json) = state.write(chat, text, extra);
            (id, json, state.hears(chat, text, answers_bot))
        };
        if heard {
            self.deliver("message", json);
        }
        id
    }

    /// Changes the text of an earlier message.
    pub fn edits(&self, chat: i64, message: i64, text: &str) {
        let json = {
            let mut state = self.lock();
            let now = state.now();
            let message = state.room(chat).messages.get_mut(&message).expect("a message");
            message.text = text.to_owned();
            message.edits += 1;
            message.json["text"] = json!(text);
            message.json["edit_date"] = json!(now);
            message.json.clone()
        };
        self.deliver("edited_message", json);
    }

    /// Presses the button with this label or data; the number of the press.
    pub fn presses(&self, person: &Person, chat: i64, message: i64, button: &str) -> String {
        let data = {
            let state = self.lock();
            let message = state.message(chat, message).expect("a message");
            let fits = |(label, data): &&(String, String)| label == button || data == button;
            let found = message.buttons.iter().find(fits);
            found.unwrap_or_else(|| panic!("no button {button:?} in {message:?}")).1.clone()
        };
        self.forges_press(person, chat, message, &data)
    }

    /// Presses with data no button there has.
    pub fn forges_press(&self, person: &Person, chat: i64, message: i64, data: &str) -> String {
        let (id, content) = {
            let mut state = self.lock();
            state.next_press += 1;
            let id = format!("press-{}", state.next_press);
            state.presses.insert(id.clone(), Press { answered: false, text: None });
            // Of a message that is too old, no more than this is shown.
            let old = json!({ "chat": state.room(chat).chat(), "message_id": message, "date": 0 });
            let on = state.message(chat, message).map_or(old, |message| message.json.clone());
            let content = json!({
                "id": id, "from": person.json(), "message": on, "chat_instance": chat.to_string(),
                "data": data,
            });
            (id, content)
        };
        self.deliver("callback_query", content);
        id
    }

    /// Puts a reaction on a message.
    pub fn reacts(&self, person: &Person, chat: i64, message: i64, emoji: &str) {
        let content = {
            let mut state = self.lock();
            let now = state.now();
            json!({
                "chat": state.room(chat).chat(), "message_id": message, "user": person.json(),
                "date": now, "old_reaction": [],
                "new_reaction": [{ "type": "emoji", "emoji": emoji }],
            })
        };
        self.deliver("message_reaction", content);
    }

    /// Lets somebody into a group.
    pub fn joins(&self, person: &Person, chat: i64) {
        self.lock().room(chat).members.push(person.clone());
        let extra = json!({ "from": person.json(), "new_chat_members": [person.json()] });
        self.posts(chat, "", extra);
    }

    pub fn leaves(&self, person: &Person, chat: i64) {
        self.lock().room(chat).members.retain(|member| member.id != person.id);
        let extra = json!({ "from": person.json(), "left_chat_member": person.json() });
        self.posts(chat, "", extra);
    }

    /// Opens a topic in a supergroup; its number.
    pub fn opens_topic(&self, person: &Person, chat: i64, name: &str) -> i64 {
        let extra = json!({
            "from": person.json(), "forum_topic_created": { "name": name, "icon_color": 7_322_096 },
            "is_topic_message": true,
        });
        let json = {
            let mut state = self.lock();
            let (id, mut json) = state.write(chat, "", extra);
            json["message_thread_id"] = json!(id);
            state.room(chat).topics.push(id);
            json["chat"] = state.room(chat).chat();
            json
        };
        let topic = json["message_thread_id"].as_i64().expect("a number");
        self.deliver("message", json);
        topic
    }

    /// Makes a group a supergroup: from now on sends to the old number fail. Nothing is announced
    /// yet.
    pub fn moves(&self, chat: i64, to: i64) {
        let mut state = self.lock();
        let room = state.room(chat);
        room.moved_to = Some(to);
        let (title, members) = (room.title.clone(), room.members.clone());
        let members: Vec<&Person> = members.iter().collect();
        state.open(to, RoomKind::Supergroup, &title, &members);
    }

    /// Says in the old chat where it went.
    pub fn announces_new_home(&self, person: &Person, chat: i64) {
        let to = self.lock().room(chat).moved_to.expect("a moved chat");
        self.posts(chat, "", json!({ "from": person.json(), "migrate_to_chat_id": to }));
    }

    /// Says in the new chat where it came from.
    pub fn announces_old_home(&self, person: &Person, chat: i64, from: i64) {
        self.posts(chat, "", json!({ "from": person.json(), "migrate_from_chat_id": from }));
    }
}
