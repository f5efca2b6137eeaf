-- Why: the first schema. One event log per household, the state derived from it, and everything a
-- message touches (inbox, due jobs, outbox) beside it, so that one transaction covers all of it.
-- Only BIGINT and TEXT columns, ids made by the program, instants as microseconds UTC, days as
-- YYYY-MM-DD: the same queries serve SQLite and PostgreSQL.

CREATE TABLE household (
    id TEXT PRIMARY KEY NOT NULL,
    founded_at BIGINT NOT NULL,
    state TEXT NOT NULL,
    memory TEXT NOT NULL,
    last_event BIGINT NOT NULL CHECK (last_event >= 0),
    last_message BIGINT NOT NULL CHECK (last_message >= 0),
    last_parcel BIGINT NOT NULL CHECK (last_parcel >= 0),
    -- Counts commits: a cached household with an older version is stale.
    version BIGINT NOT NULL CHECK (version >= 0),
    -- When the bot was removed from the home chat; nothing is posted from then on.
    gone_at BIGINT
);

-- The only table with names.
CREATE TABLE person (
    household TEXT NOT NULL REFERENCES household (id),
    id BIGINT NOT NULL CHECK (id > 0),
    channel TEXT NOT NULL,
    external TEXT NOT NULL,
    name TEXT NOT NULL,
    joined_at BIGINT NOT NULL,
    seen_at BIGINT NOT NULL,
    left_at BIGINT,
    PRIMARY KEY (household, id),
    UNIQUE (household, channel, external)
);
CREATE INDEX person_by_external ON person (channel, external);

-- Where a household is reached. A chat that moved stays as 'former' and still leads home.
CREATE TABLE chat (
    channel TEXT NOT NULL,
    chat TEXT NOT NULL,
    topic TEXT NOT NULL,
    household TEXT NOT NULL REFERENCES household (id),
    role TEXT NOT NULL CHECK (role IN ('home', 'private', 'former')),
    person BIGINT,
    PRIMARY KEY (channel, chat, topic),
    CHECK ((role = 'private') = (person IS NOT NULL))
);
CREATE INDEX chat_by_household ON chat (household, role);

-- Our message numbers against the channel's. `words` can be emptied at any time.
CREATE TABLE message (
    household TEXT NOT NULL REFERENCES household (id),
    number BIGINT NOT NULL CHECK (number > 0),
    channel TEXT NOT NULL,
    chat TEXT NOT NULL,
    -- Of a chat that has them; empty for none and for the general one.
    topic TEXT NOT NULL,
    external TEXT,
    person BIGINT,
    at BIGINT NOT NULL,
    words TEXT,
    PRIMARY KEY (household, number)
);
CREATE UNIQUE INDEX message_by_external ON message (channel, chat, external)
    WHERE external IS NOT NULL;

-- Append-only. Holds no words and no names.
CREATE TABLE event (
    household TEXT NOT NULL REFERENCES household (id),
    id BIGINT NOT NULL CHECK (id > 0),
    person BIGINT,
    at BIGINT NOT NULL,
    day TEXT NOT NULL CHECK (length(day) = 10),
    message BIGINT,
    -- A mended event counts at the position of this earlier message.
    replaces BIGINT,
    payload TEXT NOT NULL,
    PRIMARY KEY (household, id)
);

-- Raw updates, stored before they are confirmed; the primary key is what makes one count once.
CREATE TABLE inbox (
    channel TEXT NOT NULL,
    update_id BIGINT NOT NULL,
    chat TEXT,
    raw TEXT,
    received_at BIGINT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('waiting', 'done', 'failed')),
    PRIMARY KEY (channel, update_id),
    CHECK ((state = 'waiting') = (raw IS NOT NULL))
);
CREATE INDEX inbox_waiting ON inbox (state, received_at, update_id);

-- One scheduled job of one local day, once.
CREATE TABLE due (
    household TEXT NOT NULL REFERENCES household (id),
    job TEXT NOT NULL,
    day TEXT NOT NULL CHECK (length(day) = 10),
    -- What it was planned by: five-field cron text on the wall clock of an IANA zone.
    cron TEXT NOT NULL,
    zone TEXT NOT NULL,
    due_at BIGINT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('waiting', 'done', 'missed')),
    PRIMARY KEY (household, job, day)
);
CREATE INDEX due_waiting ON due (state, due_at);

-- Messages to send. A row ends as sent, refused or unsure (written, no answer).
CREATE TABLE outbox (
    household TEXT NOT NULL REFERENCES household (id),
    number BIGINT NOT NULL CHECK (number > 0),
    -- 'home', or 'person:ID' for a private chat.
    target TEXT NOT NULL,
    kind TEXT NOT NULL,
    -- May be sent again when it is not known whether it arrived.
    repeatable BIGINT NOT NULL CHECK (repeatable IN (0, 1)),
    payload TEXT NOT NULL,
    message BIGINT,
    state TEXT NOT NULL CHECK (state IN ('queued', 'claimed', 'sent', 'refused', 'unsure')),
    tries BIGINT NOT NULL CHECK (tries >= 0),
    queued_at BIGINT NOT NULL,
    not_before BIGINT NOT NULL,
    expires_at BIGINT NOT NULL,
    lease_until BIGINT,
    settled_at BIGINT,
    trouble TEXT,
    PRIMARY KEY (household, number),
    CHECK ((state = 'claimed') = (lease_until IS NOT NULL))
);
CREATE INDEX outbox_open ON outbox (state, not_before);
CREATE INDEX outbox_order ON outbox (household, target, number);

-- Whole-program facts by name, such as when it was last alive.
CREATE TABLE service (
    name TEXT PRIMARY KEY NOT NULL,
    value BIGINT NOT NULL
);
