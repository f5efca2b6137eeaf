//! The platform's HTML: which tags and entities it takes, and the text that remains.

/// Tags without attributes that the bot may use here.
const TAGS: [&str; 10] =
    ["b", "strong", "i", "em", "u", "s", "code", "pre", "blockquote", "tg-spoiler"];

/// The text without the markup, or what is wrong with it.
pub fn text_of(html: &str) -> Result<String, String> {
    let mut text = String::new();
    let mut open: Vec<&str> = Vec::new();
    let mut rest = html;
    while let Some(at) = rest.find(['<', '>', '&']) {
        text.push_str(&rest[..at]);
        let tail = &rest[at..];
        if let Some(inside) = tail.strip_prefix('<') {
            let end = inside.find('>').ok_or("a tag that is not closed")?;
            let tag = &inside[..end];
            if let Some(name) = tag.strip_prefix('/') {
                let expected = open.pop().ok_or_else(|| format!("unexpected end tag {name:?}"))?;
                if expected != name {
                    return Err(format!("end tag {name:?} where {expected:?} is open"));
                }
            } else if TAGS.contains(&tag) {
                open.push(tag);
            } else {
                return Err(format!("unsupported start tag {tag:?}"));
            }
            rest = &inside[end + 1..];
        } else if let Some(inside) = tail.strip_prefix('&') {
            let end = inside.find(';').ok_or("an ampersand that is no entity")?;
            let character = match &inside[..end] {
                "lt" => '<',
                "gt" => '>',
                "amp" => '&',
                "quot" => '"',
                other => return Err(format!("unsupported entity {other:?}")),
            };
            text.push(character);
            rest = &inside[end + 1..];
        } else {
            return Err("a bare '>'".to_owned());
        }
    }
    text.push_str(rest);
    match open.last() {
        Some(tag) => Err(format!("can't find end tag corresponding to start tag {tag:?}")),
        None => Ok(text),
    }
}
