-- A database at number 1, as the code of that time made it; its entries are invented.
BEGIN TRANSACTION;
CREATE TABLE event (
	id INTEGER NOT NULL, 
	stream VARCHAR(200) NOT NULL, 
	sequence BIGINT NOT NULL, 
	kind VARCHAR(100) NOT NULL, 
	version INTEGER NOT NULL, 
	body TEXT NOT NULL, 
	occurred_at VARCHAR(32) NOT NULL, 
	recorded_at VARCHAR(32) NOT NULL, 
	PRIMARY KEY (id), 
	CONSTRAINT event_one_per_sequence UNIQUE (stream, sequence), 
	CONSTRAINT event_sequence_from_one CHECK (sequence >= 1), 
	CONSTRAINT event_version_from_one CHECK (version >= 1)
);
INSERT INTO "event" VALUES(1,'day',1,'day-saved',1,'{"text":"name = \"Plum day\"\n","why":"first"}','2026-11-25T09:07:00.000123+00:00','2026-11-25T09:14:00.000246+00:00');
INSERT INTO "event" VALUES(2,'run/2026-11-25',1,'day-begun',1,'{"loads":[]}','2026-11-25T09:21:00.000369+00:00','2026-11-25T09:35:00.000615+00:00');
INSERT INTO "event" VALUES(3,'run/2026-11-25',2,'full-boil-reached',1,'{"load":"a"}','2026-11-25T09:28:00.000492+00:00','2026-11-25T09:35:00.000615+00:00');
INSERT INTO "event" VALUES(4,'day',2,'day-saved',1,'{"text":"name = \"Größere Ernte – 12 °C\"\n","why":"it''s more; Jory comes"}','2026-11-25T09:42:00.000738+00:00','2026-11-25T09:49:00.000861+00:00');
INSERT INTO "event" VALUES(5,'run/2026-11-25',3,'boil-lost',2,'{"load":"a"}','2026-11-25T09:56:00.000984+00:00','2026-11-25T10:03:00.001107+00:00');
CREATE TABLE migration (
	number INTEGER NOT NULL, 
	what VARCHAR(200) NOT NULL, 
	applied_at VARCHAR(32) NOT NULL, 
	PRIMARY KEY (number)
);
INSERT INTO "migration" VALUES(1,'keep events, append-only','2026-11-25T11:08:10+00:00');
CREATE TRIGGER event_no_update BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'event is append-only: mend it with a counter-entry'); END;
CREATE TRIGGER event_no_delete BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'event is append-only: mend it with a counter-entry'); END;
CREATE TRIGGER event_no_replace BEFORE INSERT ON event WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id OR (stream = NEW.stream AND sequence = NEW.sequence)) BEGIN SELECT RAISE(ABORT, 'event is append-only: that sequence is taken'); END;
COMMIT;
