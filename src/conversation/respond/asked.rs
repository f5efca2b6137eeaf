//! Questions: about the household's own stock, about food in general, about the bot.

use super::*;

impl Turn<'_> {
    /// Adds the answers to whatever the statements ask.
    pub(super) fn asked(&mut self, said: &Said, statements: &[Statement], draft: &mut Draft) {
        for statement in statements {
            match statement.intent {
                Intent::Help => draft.line(self.kit.wording.help()),
                Intent::Thanks if said.addressed || said.private => {
                    draft.line(self.kit.wording.thanks_back());
                }
                Intent::Why => self.explain(said.reply_to, draft),
                _ => continue,
            }
            draft.answers = true;
        }
    }

    /// The long explanation behind one of the bot's answers, or behind its newest one.
    pub(super) fn explain(&mut self, answer: Option<MessageId>, draft: &mut Draft) {
        draft.answers = true;
        let why = self.house.memory.why(answer).cloned();
        draft.line(why.unwrap_or_else(|| self.kit.wording.no_why()));
    }
}
