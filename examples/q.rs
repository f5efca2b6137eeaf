use larderling::reader::{ReadContext, Reader, lexicon::Lexicon};
use std::io::{BufRead, Write};
fn main() {
    let reader = Reader::new(Lexicon::new(std::iter::empty()));
    let mut ctx = ReadContext::new("2026-03-11".parse().unwrap());
    ctx.addressed = std::env::args().any(|a| a == "--addressed");
    let out = std::io::stdout();
    let mut out = out.lock();
    for line in std::io::stdin().lock().lines() {
        let line = line.unwrap();
        let r = reader.read(&line, &ctx);
        let st: Vec<_> = r.statements.iter().map(|s| serde_json::json!({"intent": s.intent.word(), "day": s.day.map(|d| d.to_string()), "until": s.until.map(|d| d.to_string()), "minutes": s.minutes, "topic": s.topic, "setting": s.setting,
            "items": s.items.iter().map(|i| serde_json::json!({"name": i.name, "food": i.food.as_ref().map(|f| f.as_str()), "form": i.form.map(|f| f.word()), "part": i.part, "place": i.place.as_ref().map(|p| p.word()), "reason": i.reason, "quantity": null, "unit": null})).collect::<Vec<_>>()})).collect();
        writeln!(out, "{}", serde_json::json!({"text": line, "stance": r.stance.word(), "statements": st, "not_understood": []})).unwrap();
    }
}
