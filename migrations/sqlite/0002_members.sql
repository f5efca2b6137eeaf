-- Why: who belongs where. Groups get their title, so that somebody in two of them can be asked
-- which one is meant; private chats can be closed by their person; people join by invites that
-- work once; a chat that moved may find that its new place was taken for another household.

ALTER TABLE chat ADD COLUMN title TEXT;

-- Since when the bot may not write there.
ALTER TABLE chat ADD COLUMN closed_at BIGINT;

CREATE TABLE invite (
    token TEXT PRIMARY KEY NOT NULL,
    household TEXT NOT NULL REFERENCES household (id),
    made_by BIGINT NOT NULL,
    expires_at BIGINT NOT NULL,
    used_at BIGINT
);

-- Which household a private chat speaks to, where its person is in more than one.
CREATE TABLE turned (
    channel TEXT NOT NULL,
    chat TEXT NOT NULL,
    household TEXT NOT NULL REFERENCES household (id),
    person BIGINT NOT NULL,
    PRIMARY KEY (channel, chat)
);

-- What somebody in more than one household wrote in private before they said which is meant.
CREATE TABLE undecided (
    channel TEXT NOT NULL,
    chat TEXT NOT NULL,
    arrival TEXT NOT NULL,
    at BIGINT NOT NULL,
    PRIMARY KEY (channel, chat)
);

-- A household founded in the new place of a chat before the chat's move was known: what it was
-- told belongs to the one that moved.
CREATE TABLE stray (
    household TEXT NOT NULL REFERENCES household (id),
    other TEXT NOT NULL REFERENCES household (id),
    PRIMARY KEY (household, other)
);
