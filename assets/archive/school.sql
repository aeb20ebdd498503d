-- The tables of a school's archive; see README.md beside this file.
CREATE TABLE marks (
    mark_key TEXT PRIMARY KEY, class_key TEXT, class TEXT, grade INTEGER, student_key TEXT,
    student TEXT, student_id TEXT, time_utc TEXT, block_key TEXT, block TEXT, round INTEGER,
    center_key TEXT, center_kind TEXT, center TEXT, skill TEXT, skill_title TEXT, level TEXT,
    help TEXT, slip TEXT
) WITHOUT ROWID;
CREATE TABLE incoming AS SELECT * FROM marks;
CREATE INDEX marks_by_skill ON marks (skill, level);
