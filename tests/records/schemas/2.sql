-- A database at number 2, as the code of that time made it; its entries are invented.
BEGIN TRANSACTION;
CREATE TABLE event (
	id INTEGER NOT NULL, 
	stream VARCHAR(200) NOT NULL, 
	sequence BIGINT NOT NULL, 
	kind VARCHAR(100) NOT NULL, 
	version INTEGER NOT NULL, 
	body TEXT NOT NULL, 
	occurred_at VARCHAR(32) NOT NULL, 
	recorded_at VARCHAR(32) NOT NULL, previous_hash VARCHAR(64) NOT NULL DEFAULT '', hash VARCHAR(64) NOT NULL DEFAULT '', key VARCHAR(200), 
	PRIMARY KEY (id), 
	CONSTRAINT event_one_per_sequence UNIQUE (stream, sequence), 
	CONSTRAINT event_sequence_from_one CHECK (sequence >= 1), 
	CONSTRAINT event_version_from_one CHECK (version >= 1)
);
INSERT INTO "event" VALUES(1,'day',1,'day-saved',1,'{"text":"name = \"Größere Ernte – 12 °C\"\n","why":"it''s more; Jory comes"}','2026-11-26T22:32:32.969325+00:00','2026-11-26T22:32:32.969338+00:00','0000000000000000000000000000000000000000000000000000000000000000','a2f7b0ce8263192dbdcb6a2e19821fd8b918702ecb518ece6be29dc169926600',NULL);
INSERT INTO "event" VALUES(2,'stock',1,'received',1,'{"token":"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa","lot":{"code":"26M241F","what":"plums","kind":"raw","measure":{"unit":"mg","part":"","each":0},"day":"","supplier":"Orchard Row","paid":"","best_before":null,"note":""},"place":"cellar","number":11339809}','2026-11-24T09:00:00.000000+00:00','2026-11-26T22:32:32.982048+00:00','0000000000000000000000000000000000000000000000000000000000000000','a4d15a6e60f7059e7b5f32c667e457013e7034c501fa2b2251e7d1de14e454fd',NULL);
INSERT INTO "event" VALUES(3,'stock',2,'received',1,'{"token":"","lot":{"code":"26M242N","what":"sugar","kind":"bought","measure":{"unit":"mg","part":"","each":0},"day":"","supplier":"","paid":"","best_before":null,"note":""},"place":"pantry","number":2267962}','2026-11-24T09:00:00.000000+00:00','2026-11-26T22:32:32.982048+00:00','a4d15a6e60f7059e7b5f32c667e457013e7034c501fa2b2251e7d1de14e454fd','c730db1a08905470dfaa8e11f8f4e4b3286dd521635e8fdc44baa3333c885a5e',NULL);
INSERT INTO "event" VALUES(4,'stock',3,'made',1,'{"token":"bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb","lot":{"code":"26M243W","what":"plum juice","kind":"raw","measure":{"unit":"ul","part":"bag","each":946353},"day":"2026-11-24","supplier":"","paid":"","best_before":null,"note":""},"place":"freezer 2","number":3785412,"inputs":[{"lot":"26M241F","place":"cellar","number":9071847}],"batch":{"food":"","recipe":"","source":"","multiple":1,"who":"Jory","pot":"","boil_start":"","boil_min":null,"load":null,"canner":"","elevation_ft":null,"lids":"","process_min":null,"due_min":null,"due_source":"","out_at":"","canned":false,"tasting":"","picture":""}}','2026-11-24T09:00:00.000000+00:00','2026-11-26T22:32:33.025410+00:00','c730db1a08905470dfaa8e11f8f4e4b3286dd521635e8fdc44baa3333c885a5e','dd2bfe5f932a4285ef15f4e0d104a2924074eb2b90bf515f3770807b7051d341',NULL);
INSERT INTO "event" VALUES(5,'stock',4,'made',1,'{"token":"","lot":{"code":"26M2443Q","what":"plum jelly","kind":"jars filled","measure":{"unit":"pieces","part":"half-pint","each":0},"day":"2026-11-24","supplier":"","paid":"","best_before":null,"note":""},"place":"pantry","number":8,"inputs":[{"lot":"26M243W","place":"freezer 2","number":1892706},{"lot":"26M242N","place":"pantry","number":907185}],"batch":{"food":"jelly","recipe":"","source":"","multiple":1,"who":"","pot":"","boil_start":"","boil_min":null,"load":3,"canner":"","elevation_ft":null,"lids":"","process_min":10,"due_min":10,"due_source":"invented","out_at":"","canned":true,"tasting":"","picture":""}}','2026-11-24T09:00:00.000000+00:00','2026-11-26T22:32:33.032369+00:00','dd2bfe5f932a4285ef15f4e0d104a2924074eb2b90bf515f3770807b7051d341','64d538dc5e1ddee0db02008edf609d5da4ed219f23dc425cb3e99a9976436938',NULL);
INSERT INTO "event" VALUES(6,'stock',5,'made',1,'{"token":"","lot":{"code":"26M2453Y","what":"plum jelly","kind":"jars filled","measure":{"unit":"pieces","part":"half-pint","each":0},"day":"2026-11-24","supplier":"","paid":"","best_before":null,"note":""},"place":"pantry","number":7,"inputs":[{"lot":"26M243W","place":"freezer 2","number":1892706}],"batch":{"food":"jelly","recipe":"","source":"","multiple":1,"who":"","pot":"","boil_start":"","boil_min":null,"load":3,"canner":"","elevation_ft":null,"lids":"","process_min":10,"due_min":10,"due_source":"invented","out_at":"","canned":true,"tasting":"","picture":""}}','2026-11-24T09:00:00.000000+00:00','2026-11-26T22:32:33.035594+00:00','64d538dc5e1ddee0db02008edf609d5da4ed219f23dc425cb3e99a9976436938','933cee6f593b84b62d087c085d7354bff2e8c6ba68ba4872a6f6f7ece5835489',NULL);
INSERT INTO "event" VALUES(7,'stock',6,'checked',1,'{"token":"","lot":"26M2443Q","good":7,"failed":1,"doubtful":0,"place":"pantry","aside":1,"seen":"set","note":""}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.039309+00:00','933cee6f593b84b62d087c085d7354bff2e8c6ba68ba4872a6f6f7ece5835489','d21965ee2154dd51bc4a4614c46e50f22f5a0a99c7c78e668af3b9e4f15e4efe',NULL);
INSERT INTO "event" VALUES(8,'stock',7,'checked',1,'{"token":"","lot":"26M2453Y","good":null,"failed":0,"doubtful":0,"place":"","aside":0,"seen":"soft","note":""}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.043257+00:00','d21965ee2154dd51bc4a4614c46e50f22f5a0a99c7c78e668af3b9e4f15e4efe','90ec5f39cfddc496c487dc2ac501441f5e21d6d6e092e627882d29ff330c4b52',NULL);
INSERT INTO "event" VALUES(9,'stock',8,'taken',1,'{"token":"cccccccccccccccccccccccccccccccc","way":"sold","parts":[{"lot":"26M2443Q","place":"pantry","number":2}],"to":"Bram","why":""}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.047444+00:00','90ec5f39cfddc496c487dc2ac501441f5e21d6d6e092e627882d29ff330c4b52','895607aa36f17f5e6bd1b7f9b836bbd00c12f2a7cd6f06b17817f387fb4ab64e',NULL);
INSERT INTO "event" VALUES(10,'stock',9,'moved',1,'{"token":"","parts":[{"lot":"26M2443Q","place":"pantry","number":3}],"to":"stand"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.051065+00:00','895607aa36f17f5e6bd1b7f9b836bbd00c12f2a7cd6f06b17817f387fb4ab64e','2a8f7aaa87b79e8153d7f9a6d6f89c921efae9a6fe52b877e4266bbac2ea3d2b',NULL);
INSERT INTO "event" VALUES(11,'stock',10,'counted',1,'{"token":"","lot":"26M242N","place":"pantry","number":907185,"book":1360777,"why":"spilt"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.055811+00:00','2a8f7aaa87b79e8153d7f9a6d6f89c921efae9a6fe52b877e4266bbac2ea3d2b','ebd2a3b8da8fdb3c2617fd6178cf223af345f1fc10cb07ab196490e16ac45644',NULL);
INSERT INTO "event" VALUES(12,'stock',11,'taken',1,'{"token":"","way":"eaten","parts":[{"lot":"26M241F","place":"cellar","number":453592}],"to":"","why":""}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.059800+00:00','ebd2a3b8da8fdb3c2617fd6178cf223af345f1fc10cb07ab196490e16ac45644','c97e07266a2cd76c3493e9bd8a80125dc92b90f76a43951778298a6ae4524ef9',NULL);
INSERT INTO "event" VALUES(13,'stock',12,'mended',1,'{"token":"","of":11,"changes":[{"lot":"26M241F","place":"cellar","number":453592}],"why":"it was 2 lb"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.063424+00:00','c97e07266a2cd76c3493e9bd8a80125dc92b90f76a43951778298a6ae4524ef9','9b38f72428b64261f066f14b0593d46693be705d17d64d70c900f7882f78732f',NULL);
INSERT INTO "event" VALUES(14,'stock',13,'mended',1,'{"token":"","of":7,"changes":[],"why":"another jar was meant"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.067206+00:00','9b38f72428b64261f066f14b0593d46693be705d17d64d70c900f7882f78732f','5356c3dcaf86e7de490d6524bc4fffec625254c331488c8e50be5d901f1604e8',NULL);
INSERT INTO "event" VALUES(15,'stock',14,'recalled',1,'{"token":"","lots":["26M243W","26M2443Q","26M2453Y"],"why":"soft lids"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.071263+00:00','5356c3dcaf86e7de490d6524bc4fffec625254c331488c8e50be5d901f1604e8','488c6aeac3d0c62e4faa90b0237a2eb6f9b34dfc1e1fca838b5c546b98d99eed',NULL);
INSERT INTO "event" VALUES(16,'day',2,'day-saved',1,'{"text":"name = \"Plum day\"\n","why":"shorter"}','2026-11-26T22:32:33.079223+00:00','2026-11-26T22:32:33.079228+00:00','a2f7b0ce8263192dbdcb6a2e19821fd8b918702ecb518ece6be29dc169926600','2ef4e1b8ff35389b4fceee8e0766a6f19be349f136084ab96227f0e15b0f64a9',NULL);
INSERT INTO "event" VALUES(17,'run/2026-11-25',1,'day-begun',1,'{"loads":[]}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.086713+00:00','0000000000000000000000000000000000000000000000000000000000000000','be610734e0fe29e808558078c01ed52c51b8ee287b1b35b206c11fa92ecda148',NULL);
INSERT INTO "event" VALUES(18,'run/2026-11-25',2,'full-boil-reached',1,'{"load":"a"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.086713+00:00','be610734e0fe29e808558078c01ed52c51b8ee287b1b35b206c11fa92ecda148','76351dd8bfb70abc6293aa9cfce02458ebb93c803784f7e87bdb9212119d03dd','tap-1');
INSERT INTO "event" VALUES(19,'run/2026-11-25',3,'boil-lost',1,'{"load":"a"}','2026-11-24T23:00:00.000000+00:00','2026-11-26T22:32:33.094711+00:00','76351dd8bfb70abc6293aa9cfce02458ebb93c803784f7e87bdb9212119d03dd','8156f10a19b6cb71b1f54c79cb0e8120037c89634075fa829d75b3f94d67048c',NULL);
CREATE TABLE head (
	stream VARCHAR(200) NOT NULL, 
	sequence BIGINT NOT NULL, 
	hash VARCHAR(64) NOT NULL, 
	PRIMARY KEY (stream)
);
INSERT INTO "head" VALUES('day',2,'2ef4e1b8ff35389b4fceee8e0766a6f19be349f136084ab96227f0e15b0f64a9');
INSERT INTO "head" VALUES('stock',14,'488c6aeac3d0c62e4faa90b0237a2eb6f9b34dfc1e1fca838b5c546b98d99eed');
INSERT INTO "head" VALUES('run/2026-11-25',3,'8156f10a19b6cb71b1f54c79cb0e8120037c89634075fa829d75b3f94d67048c');
CREATE TABLE migration (
	number INTEGER NOT NULL, 
	what VARCHAR(200) NOT NULL, 
	applied_at VARCHAR(32) NOT NULL, 
	PRIMARY KEY (number)
);
INSERT INTO "migration" VALUES(1,'keep events, append-only','2026-11-26T22:32:32+00:00');
INSERT INTO "migration" VALUES(2,'chain the events of a stream, and know a retry','2026-11-26T22:32:32+00:00');
CREATE UNIQUE INDEX event_one_per_key ON event (key);
CREATE TRIGGER event_no_update BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'event is append-only: mend it with a counter-entry'); END;
CREATE TRIGGER event_no_delete BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'event is append-only: mend it with a counter-entry'); END;
CREATE TRIGGER event_no_replace BEFORE INSERT ON event WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id OR (stream = NEW.stream AND sequence = NEW.sequence)) BEGIN SELECT RAISE(ABORT, 'event is append-only: that sequence is taken'); END;
CREATE TRIGGER event_no_second_key BEFORE INSERT ON event WHEN EXISTS (SELECT 1 FROM event WHERE key = NEW.key) BEGIN SELECT RAISE(ABORT, 'event is append-only: that key is taken'); END;
CREATE TRIGGER head_no_delete BEFORE DELETE ON head BEGIN SELECT RAISE(ABORT, 'head goes forward only, one stream a row'); END;
CREATE TRIGGER head_forward BEFORE UPDATE ON head WHEN NEW.stream <> OLD.stream OR NEW.sequence <= OLD.sequence BEGIN SELECT RAISE(ABORT, 'head goes forward only, one stream a row'); END;
CREATE TRIGGER head_no_replace BEFORE INSERT ON head WHEN EXISTS (SELECT 1 FROM head WHERE stream = NEW.stream) BEGIN SELECT RAISE(ABORT, 'head goes forward only, one stream a row'); END;
COMMIT;
