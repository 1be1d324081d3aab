-- Numbers that a decision rests on are in the documents, as the texts that were
-- recorded. The columns beside them are for finding and sorting; money is text,
-- because a sum of binary fractions is not a sum of cents.
CREATE TABLE IF NOT EXISTS plans (
	digest   TEXT PRIMARY KEY,   -- SHA-256 of the document: a changed plan is another plan
	name     TEXT NOT NULL,
	document TEXT NOT NULL
) STRICT;

CREATE TABLE IF NOT EXISTS lots (
	id       TEXT NOT NULL,
	revision INTEGER NOT NULL CHECK (revision > 0),
	document TEXT NOT NULL,
	PRIMARY KEY (id, revision)
) STRICT;

CREATE TABLE IF NOT EXISTS evaluations (
	lot      TEXT NOT NULL,
	revision INTEGER NOT NULL,
	plan     TEXT NOT NULL REFERENCES plans (digest),
	decision TEXT NOT NULL,
	pwl      REAL NOT NULL,
	pay      TEXT,               -- NULL for a rejected lot
	document TEXT NOT NULL,
	PRIMARY KEY (lot, revision, plan),
	FOREIGN KEY (lot, revision) REFERENCES lots (id, revision)
) STRICT;
