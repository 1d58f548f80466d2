BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE block (
	code TEXT NOT NULL, 
	first INTEGER NOT NULL, 
	last INTEGER NOT NULL CHECK (last >= first), 
	device TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (code, first), 
	FOREIGN KEY(code) REFERENCES code (code)
)
 STRICT

;
CREATE TABLE book (
	id INTEGER NOT NULL CHECK (id = 1), 
	made_at TEXT NOT NULL, 
	last_seq INTEGER NOT NULL CHECK (last_seq >= 0), 
	reading INTEGER NOT NULL, 
	PRIMARY KEY (id)
)
 STRICT

;
INSERT INTO "book" VALUES(1,'2026-05-04T08:00:00+00:00',100,1);
CREATE TABLE chosen (
	log TEXT NOT NULL, 
	"plan" TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (log), 
	FOREIGN KEY(log) REFERENCES log (id), 
	FOREIGN KEY("plan") REFERENCES "plan" (id)
)
 STRICT

;
CREATE TABLE code (
	code TEXT NOT NULL, 
	next_number INTEGER NOT NULL CHECK (next_number >= 1), 
	shed INTEGER NOT NULL CHECK (shed IN (0, 1)), 
	PRIMARY KEY (code)
)
 STRICT

;
INSERT INTO "code" VALUES('B',3,0);
INSERT INTO "code" VALUES('C',1,0);
INSERT INTO "code" VALUES('D',1,0);
INSERT INTO "code" VALUES('E',6,1);
INSERT INTO "code" VALUES('MK',41,0);
INSERT INTO "code" VALUES('A',35,0);
CREATE TABLE day (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	on_date TEXT NOT NULL, 
	closed_seq INTEGER, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id)
)
 STRICT

;
INSERT INTO "day" VALUES('ddbed46c-7a27-40f5-a96a-b02aafb0a66e','2026-05-04',NULL,21);
INSERT INTO "day" VALUES('54f8f7d0-7c40-4916-b60f-73bf653ac217','2026-05-04',58,38);
INSERT INTO "day" VALUES('44ff6cf8-1a3e-4f61-8c68-a01139e58e90','2026-05-04',70,68);
CREATE TABLE event (
	seq INTEGER NOT NULL CHECK (seq >= 1), 
	stream TEXT NOT NULL, 
	number INTEGER NOT NULL CHECK (number >= 1), 
	command TEXT NOT NULL CHECK (length(command) = 36), 
	device TEXT NOT NULL CHECK (length(device) = 36), 
	count INTEGER NOT NULL CHECK (count >= 1), 
	person TEXT NOT NULL, 
	happened_at TEXT NOT NULL, 
	recorded_at TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	form INTEGER NOT NULL CHECK (form >= 1), 
	body TEXT NOT NULL, 
	read TEXT NOT NULL, 
	PRIMARY KEY (seq), 
	UNIQUE (stream, number), 
	UNIQUE (command)
)
 STRICT

;
INSERT INTO "event" VALUES(1,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',1,'b62992c8-fdf9-4bd9-b193-04cfca29c513','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',1,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c","what":"piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f"}','[{"stream":"piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","version":3}]');
INSERT INTO "event" VALUES(2,'photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',1,'11fdbbbf-ab22-4362-badd-b631ffe2965b','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',2,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','photo-filed',1,'{"about":"piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","photo":"bae69d46-6bdd-43aa-9444-e9b08e925e6c"}','[{"stream":"photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c","version":0}]');
INSERT INTO "event" VALUES(3,'photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',2,'1584421e-1305-4d81-93f0-4425e726637b','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',3,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','photo-filed',1,'{"about":"piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","photo":"bae69d46-6bdd-43aa-9444-e9b08e925e6c"}','[{"stream":"photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c","version":2}]');
INSERT INTO "event" VALUES(4,'plan:9e39cd0b-41de-47cd-8129-3645b772423e',1,'f593c3cd-48b4-4911-be3d-fb3e183d1ffb','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',4,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','plan-made',1,'{"file":"efdf366ffdbc66684008396f7b03fb12e2f5ad1dee4fe406e7fae8298e5fa7d1","log":"3ad63da2-421a-4b8d-a6d3-e93185ae86b1","pattern":"through","pieces":9,"plan":"9e39cd0b-41de-47cd-8129-3645b772423e","sheet_number":1}','[{"stream":"plan:9e39cd0b-41de-47cd-8129-3645b772423e","version":0}]');
INSERT INTO "event" VALUES(5,'piece:9471168c-5d70-41c0-be46-078cf2429acc',1,'9542c764-be6f-47d4-8317-22347036a930','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',1,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":6,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"wedge","piece":"9471168c-5d70-41c0-be46-078cf2429acc","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.3638147071811991,0.4818504975657447]}','[{"stream":"piece:9471168c-5d70-41c0-be46-078cf2429acc","version":1}]');
INSERT INTO "event" VALUES(6,'log:46699f2f-689a-4621-9129-d071b8ee3f38',1,'6251c727-504e-4c90-aee0-19002eef3e7e','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',2,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-arrived',1,'{"code":"B","log":"46699f2f-689a-4621-9129-d071b8ee3f38","sheet":"sheet","species":"ash"}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":2}]');
INSERT INTO "event" VALUES(7,'log:46699f2f-689a-4621-9129-d071b8ee3f38',2,'4f3fa052-1ac8-4c38-bd46-05279cc3eb70','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',6,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"46699f2f-689a-4621-9129-d071b8ee3f38","pieces":["9471168c-5d70-41c0-be46-078cf2429acc","677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f"]}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":0}]');
INSERT INTO "event" VALUES(8,'piece:9471168c-5d70-41c0-be46-078cf2429acc',3,'3ac4ead0-7ae9-473a-822d-3a5522146245','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',7,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','taken-back',1,'{"about":"piece:9471168c-5d70-41c0-be46-078cf2429acc","command":"9542c764-be6f-47d4-8317-22347036a930"}','[{"stream":"piece:9471168c-5d70-41c0-be46-078cf2429acc","version":3}]');
INSERT INTO "event" VALUES(9,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',1,'0a5aa2d6-9333-4230-807d-7aa148a133a8','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',8,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-arrived',1,'{"code":"B","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","sheet":"sheet","species":"ash"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":0}]');
INSERT INTO "event" VALUES(10,'piece:85a790c2-32e1-4647-941d-37fb27873809',1,'04b1ecdb-44d1-4d4f-b740-e528cd283f8d','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',9,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-counted',1,'{"piece":"85a790c2-32e1-4647-941d-37fb27873809","species":"elm","spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c"}','[{"stream":"piece:85a790c2-32e1-4647-941d-37fb27873809","version":1}]');
INSERT INTO "event" VALUES(11,'piece:85a790c2-32e1-4647-941d-37fb27873809',2,'7b9e55e1-f161-4cb4-ab21-f0cdedecc031','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',4,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c","what":"piece:85a790c2-32e1-4647-941d-37fb27873809"}','[{"stream":"piece:85a790c2-32e1-4647-941d-37fb27873809","version":3}]');
INSERT INTO "event" VALUES(12,'log:46699f2f-689a-4621-9129-d071b8ee3f38',3,'f30a20b6-8178-4c33-8dee-7722b80f2562','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',5,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"46699f2f-689a-4621-9129-d071b8ee3f38","pieces":["9471168c-5d70-41c0-be46-078cf2429acc","85a790c2-32e1-4647-941d-37fb27873809"]}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":3}]');
INSERT INTO "event" VALUES(13,'log:46699f2f-689a-4621-9129-d071b8ee3f38',4,'2c770527-b19b-47b7-b23f-167e600dbebd','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',6,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"46699f2f-689a-4621-9129-d071b8ee3f38","pieces":["677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","85a790c2-32e1-4647-941d-37fb27873809"]}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":3}]');
INSERT INTO "event" VALUES(14,'photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed',1,'cbf6bfc9-a112-42a0-8f9a-d8ae9a240f20','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',10,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','photo-taken',1,'{"file":"4566315d827e27c2711bdca9216787ac6bf5aec9074948c76f4198bf28afc44c","photo":"9becd416-fa5c-4256-9afb-e2ce2617d5ed"}','[{"stream":"photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed","version":3}]');
INSERT INTO "event" VALUES(15,'log:46699f2f-689a-4621-9129-d071b8ee3f38',5,'1c36a359-98f2-4673-80ca-76346c35876e','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',11,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','note-written',1,'{"about":"log:46699f2f-689a-4621-9129-d071b8ee3f38","words":"words"}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":0}]');
INSERT INTO "event" VALUES(16,'piece:9471168c-5d70-41c0-be46-078cf2429acc',5,'77730998-a848-4413-bf50-cc987be9417b','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',7,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','weighed',1,'{"mass_kg":54.38711144395003,"what":"piece:9471168c-5d70-41c0-be46-078cf2429acc"}','[{"stream":"piece:9471168c-5d70-41c0-be46-078cf2429acc","version":1}]');
INSERT INTO "event" VALUES(17,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',1,'005bf09a-2f40-4010-8069-1cd464ec5741','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',12,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-arrived',1,'{"code":"B","log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","sheet":"sheet","species":"ash"}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":0}]');
INSERT INTO "event" VALUES(18,'piece:9471168c-5d70-41c0-be46-078cf2429acc',6,'53a9d127-17f2-4584-a412-740ed10fd157','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',13,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":5,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"short","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","piece":"9471168c-5d70-41c0-be46-078cf2429acc","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.13475768926542367,0.17981276234692375]}','[{"stream":"piece:9471168c-5d70-41c0-be46-078cf2429acc","version":3}]');
INSERT INTO "event" VALUES(19,'person:a7c69d3b-7815-47e5-86fa-8e0d0c4716a3',1,'42fd87b1-6bce-481d-a820-6630aaa451b7','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',8,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','person-added',1,'{"called":"Jo","person":"a7c69d3b-7815-47e5-86fa-8e0d0c4716a3"}','[{"stream":"person:a7c69d3b-7815-47e5-86fa-8e0d0c4716a3","version":0}]');
INSERT INTO "event" VALUES(20,'spot:68d66dcc-b842-4197-90f4-a1e887a71e34',1,'1c1dec3a-3bda-47c2-8ec5-3ca620fc6a6d','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',14,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','spot-named',1,'{"called":"rack","spot":"68d66dcc-b842-4197-90f4-a1e887a71e34"}','[{"stream":"spot:68d66dcc-b842-4197-90f4-a1e887a71e34","version":1}]');
INSERT INTO "event" VALUES(21,'day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',3,'5cb48730-1571-4c7b-a853-90aea258608a','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',15,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','day-opened',1,'{"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","on":"2026-05-04"}','[{"stream":"day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e","version":0}]');
INSERT INTO "event" VALUES(22,'plan:337ece39-a35d-4a11-b72e-4fb672946eed',1,'46cc29d0-aa1b-460d-8b36-0cc68c37d213','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',9,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','plan-made',1,'{"file":"31b7ba7ee0fc2f933414b3c3531d42d0e9b6a4fad39d692e0eef7c44afce6183","log":"3ad63da2-421a-4b8d-a6d3-e93185ae86b1","pattern":"through","pieces":9,"plan":"337ece39-a35d-4a11-b72e-4fb672946eed","sheet_number":1}','[{"stream":"plan:337ece39-a35d-4a11-b72e-4fb672946eed","version":3}]');
INSERT INTO "event" VALUES(23,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',2,'7e90f16a-3a22-4e7c-bde6-20d4478c0cb0','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',10,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","pieces":["85a790c2-32e1-4647-941d-37fb27873809","9471168c-5d70-41c0-be46-078cf2429acc","677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f"]}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":0}]');
INSERT INTO "event" VALUES(24,'piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4',1,'78dac0e4-8449-4cfe-9e8d-9fd3406a8e98','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',11,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-counted',1,'{"piece":"73f81c55-b2b0-42fe-b792-002b99fd6fb4","species":"elm","spot":"68d66dcc-b842-4197-90f4-a1e887a71e34"}','[{"stream":"piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4","version":2}]');
INSERT INTO "event" VALUES(25,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',1,'1bf6619c-6170-4087-8fea-74bc1465a7dc','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',12,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c","what":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1"}','[{"stream":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1","version":2}]');
INSERT INTO "event" VALUES(26,'spot:9f330eba-a783-4b8a-b765-a692e4255060',1,'5fa1d741-96cc-477e-96c9-77de9f176d99','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',16,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','spot-named',1,'{"called":"rack","spot":"9f330eba-a783-4b8a-b765-a692e4255060"}','[{"stream":"spot:9f330eba-a783-4b8a-b765-a692e4255060","version":2}]');
INSERT INTO "event" VALUES(27,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',7,'33fac728-de76-4812-b5b5-b82c400090fc','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',17,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"9f330eba-a783-4b8a-b765-a692e4255060","what":"piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f"}','[{"stream":"piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","version":1}]');
INSERT INTO "event" VALUES(28,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',2,'19a7a028-cf3b-4813-a035-f98e9af02c9b','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',13,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"3ad63da2-421a-4b8d-a6d3-e93185ae86b1","pieces":["677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","73f81c55-b2b0-42fe-b792-002b99fd6fb4","9471168c-5d70-41c0-be46-078cf2429acc","85a790c2-32e1-4647-941d-37fb27873809"]}','[{"stream":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1","version":3}]');
INSERT INTO "event" VALUES(29,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',3,'ff5e4c3a-0efa-44a7-802d-9e1e357ac6f2','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',14,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-measured',1,'{"log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","sheet":"sheet again","species":"oak"}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":3}]');
INSERT INTO "event" VALUES(30,'day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',4,'a530857e-11a9-48ee-9648-63485a795de3','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',15,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','at-the-mill',1,'{"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","what":"blade wandered"}','[{"stream":"day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e","version":1}]');
INSERT INTO "event" VALUES(31,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',3,'11167020-09c0-4109-9ca9-8df49604d37b','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',16,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-measured',1,'{"log":"f7dba14f-d95e-4169-818e-3e321002dcfe","sheet":"sheet again","species":"oak"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":2}]');
INSERT INTO "event" VALUES(32,'piece:9471168c-5d70-41c0-be46-078cf2429acc',9,'1e303bdf-2fe6-47f1-b6dc-ce40396b1182','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',17,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-ended',1,'{"how":"sawn up","piece":"9471168c-5d70-41c0-be46-078cf2429acc"}','[{"stream":"piece:9471168c-5d70-41c0-be46-078cf2429acc","version":3}]');
INSERT INTO "event" VALUES(33,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',5,'29cafb78-4e51-4c75-95a5-9e0d12fb0bb5','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',18,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','note-written',1,'{"about":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","words":"words"}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":0}]');
INSERT INTO "event" VALUES(34,'piece:235efcac-c73a-49a9-9439-994a984bd122',1,'74fdf42e-c051-4ec1-9a7e-89d35210cec5','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',19,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":3,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"thin","log":"46699f2f-689a-4621-9129-d071b8ee3f38","name":"MK-32-P","piece":"235efcac-c73a-49a9-9439-994a984bd122","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.2840539997028245,0.270142617500994]}','[{"stream":"piece:235efcac-c73a-49a9-9439-994a984bd122","version":2}]');
INSERT INTO "event" VALUES(35,'piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef',1,'7e2545a6-0ae6-4721-9d3b-46e2580c84fb','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',18,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":2,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"wedge","name":"MK-15-P","piece":"d3ca4ecf-3bad-42b1-aaa4-541b426e2bef","widths_m":[0.40759301627951827,0.49095180081637735]}','[{"stream":"piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef","version":2}]');
INSERT INTO "event" VALUES(36,'day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',7,'4e097056-82df-4ddb-a650-38f59aebde4d','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',19,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','at-the-mill',1,'{"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","piece":"677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f","what":"blade wandered"}','[{"stream":"day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e","version":0}]');
INSERT INTO "event" VALUES(37,'piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562',1,'3fc629ee-9053-459e-b13d-a26e322de72b','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',20,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":7,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"spoiled","name":"MK-7-0","piece":"fcd2c0ea-0841-4a40-a923-9ff3a7453562","widths_m":[0.18100991739168085,0.325454308716146]}','[{"stream":"piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562","version":2}]');
INSERT INTO "event" VALUES(38,'day:54f8f7d0-7c40-4916-b60f-73bf653ac217',1,'410cc889-8e17-42e6-b590-52be1b77684b','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',21,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','day-opened',1,'{"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217","on":"2026-05-04"}','[{"stream":"day:54f8f7d0-7c40-4916-b60f-73bf653ac217","version":0}]');
INSERT INTO "event" VALUES(39,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',5,'6637a41a-d310-4228-9c9b-fe4f26e1b2b1','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',20,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-ended',1,'{"how":"all sawn","log":"f7dba14f-d95e-4169-818e-3e321002dcfe"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":0}]');
INSERT INTO "event" VALUES(40,'day:54f8f7d0-7c40-4916-b60f-73bf653ac217',2,'7037188c-a9a8-4027-b5c0-66888abcb38d','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',22,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','at-the-mill',1,'{"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","piece":"9471168c-5d70-41c0-be46-078cf2429acc","what":"blade changed"}','[{"stream":"day:54f8f7d0-7c40-4916-b60f-73bf653ac217","version":3}]');
INSERT INTO "event" VALUES(41,'piece:9471168c-5d70-41c0-be46-078cf2429acc',11,'cf99720f-44cc-4c99-ac77-1ced69e42fd2','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',21,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":6,"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217","how":"kept as a cant","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","name":"MK-37-D","piece":"9471168c-5d70-41c0-be46-078cf2429acc","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.5099885235756141,0.14470740625030068]}','[{"stream":"piece:9471168c-5d70-41c0-be46-078cf2429acc","version":3}]');
INSERT INTO "event" VALUES(42,'spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',5,'54d49aff-a197-485e-a2e8-bac39faaaf27','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',23,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','spot-named',1,'{"called":"rack","spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c"}','[{"stream":"spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c","version":2}]');
INSERT INTO "event" VALUES(43,'plan:337ece39-a35d-4a11-b72e-4fb672946eed',2,'1bac7548-e437-49a7-94c3-9a5f181a1964','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',23,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','plan-made',1,'{"file":"79757db2947723f8f3f082a0ba6a7a11817f0fb848c2abe40a1c8989394059eb","log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","pattern":"through","pieces":9,"plan":"337ece39-a35d-4a11-b72e-4fb672946eed","sheet_number":1}','[{"stream":"plan:337ece39-a35d-4a11-b72e-4fb672946eed","version":2}]');
INSERT INTO "event" VALUES(44,'piece:320bc0ae-fd8e-47b2-8630-7f7755abf460',1,'f864a4af-0cce-4906-8397-d6c646ec15f2','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',24,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":3,"how":"kept as a cant","log":"3ad63da2-421a-4b8d-a6d3-e93185ae86b1","name":"MK-12-X","piece":"320bc0ae-fd8e-47b2-8630-7f7755abf460","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.17708979808142203,0.3507147929733466]}','[{"stream":"piece:320bc0ae-fd8e-47b2-8630-7f7755abf460","version":1}]');
INSERT INTO "event" VALUES(45,'person:660bfb5f-8097-4aa7-8acf-c94de0484773',1,'74b7fb6f-082f-4d6a-af8e-1a329e15e65c','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',24,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','person-added',1,'{"called":"Jo","person":"660bfb5f-8097-4aa7-8acf-c94de0484773"}','[{"stream":"person:660bfb5f-8097-4aa7-8acf-c94de0484773","version":1}]');
INSERT INTO "event" VALUES(46,'log:46699f2f-689a-4621-9129-d071b8ee3f38',7,'08644bbc-6487-4ec7-a085-f60a4c26dcb6','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',25,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-ended',1,'{"how":"all sawn","log":"46699f2f-689a-4621-9129-d071b8ee3f38"}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":1}]');
INSERT INTO "event" VALUES(47,'log:46699f2f-689a-4621-9129-d071b8ee3f38',8,'39466793-ea5f-48c0-9c73-9f139a7a9103','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',25,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-arrived',1,'{"log":"46699f2f-689a-4621-9129-d071b8ee3f38","sheet":"sheet","species":"ash"}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":2}]');
INSERT INTO "event" VALUES(48,'piece:59945789-fc92-436c-b73d-05019772febc',1,'a1af7947-be43-4812-99a4-ee25adc82a8d','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',26,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":1,"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217","how":"thin","name":"MK-27-G","piece":"59945789-fc92-436c-b73d-05019772febc","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.29785522236038375,0.26933457244752945]}','[{"stream":"piece:59945789-fc92-436c-b73d-05019772febc","version":2}]');
INSERT INTO "event" VALUES(49,'piece:320bc0ae-fd8e-47b2-8630-7f7755abf460',2,'97701587-9b15-4847-b8d4-62ce17c79940','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',26,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"68d66dcc-b842-4197-90f4-a1e887a71e34","what":"piece:320bc0ae-fd8e-47b2-8630-7f7755abf460"}','[{"stream":"piece:320bc0ae-fd8e-47b2-8630-7f7755abf460","version":3}]');
INSERT INTO "event" VALUES(50,'piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4',3,'2dc8773d-583d-4562-9a57-398f9236961c','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',27,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-counted',1,'{"name":"A-12-F","piece":"73f81c55-b2b0-42fe-b792-002b99fd6fb4","species":"elm","spot":"9f330eba-a783-4b8a-b765-a692e4255060"}','[{"stream":"piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4","version":1}]');
INSERT INTO "event" VALUES(51,'piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef',2,'ab4250e4-24be-49ce-b9c0-e66a80cd91e9','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',29,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','tagged',1,'{"name":"MK-40-R","piece":"d3ca4ecf-3bad-42b1-aaa4-541b426e2bef"}','[{"stream":"piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef","version":1}]');
INSERT INTO "event" VALUES(52,'piece:b1159f8f-da76-40bf-b9bb-4a55217920ba',1,'80068ce3-ce79-4ce0-b547-ffdd4eb2f11e','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',30,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":3,"how":"kept as a cant","piece":"b1159f8f-da76-40bf-b9bb-4a55217920ba","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.25590101591765113,0.4462784823014073]}','[{"stream":"piece:b1159f8f-da76-40bf-b9bb-4a55217920ba","version":0}]');
INSERT INTO "event" VALUES(53,'piece:fc78f23e-89a6-42d4-8ca9-1b54845cc1b9',1,'91919970-1686-4809-8f56-e4e949c22db0','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',31,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":6,"how":"wedge","parent":"59945789-fc92-436c-b73d-05019772febc","piece":"fc78f23e-89a6-42d4-8ca9-1b54845cc1b9","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.4911343069826559,0.3475129167796539]}','[{"stream":"piece:fc78f23e-89a6-42d4-8ca9-1b54845cc1b9","version":1}]');
INSERT INTO "event" VALUES(54,'piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562',2,'8568747f-c156-4bab-baff-33cf4f1f1d41','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',32,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":2,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"spoiled","piece":"fcd2c0ea-0841-4a40-a923-9ff3a7453562","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.5846142708352106,0.40845132411245577]}','[{"stream":"piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562","version":1}]');
INSERT INTO "event" VALUES(55,'photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed',2,'91e54a98-d389-4284-a04e-62583f994009','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',27,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','photo-filed',1,'{"about":"piece:59945789-fc92-436c-b73d-05019772febc","photo":"9becd416-fa5c-4256-9afb-e2ce2617d5ed"}','[{"stream":"photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed","version":2}]');
INSERT INTO "event" VALUES(56,'piece:29f68213-8fb5-4266-9f90-6604389cfa76',1,'994d98f0-248d-47fb-b256-db3c68c57009','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',28,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":1,"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217","how":"wedge","piece":"29f68213-8fb5-4266-9f90-6604389cfa76","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.10200447797702297,0.19491935196654184]}','[{"stream":"piece:29f68213-8fb5-4266-9f90-6604389cfa76","version":2}]');
INSERT INTO "event" VALUES(57,'log:46699f2f-689a-4621-9129-d071b8ee3f38',9,'53fca34a-1748-48b4-b4ce-3c856208077e','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',29,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-ended',1,'{"how":"given away","log":"46699f2f-689a-4621-9129-d071b8ee3f38"}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":1}]');
INSERT INTO "event" VALUES(58,'day:54f8f7d0-7c40-4916-b60f-73bf653ac217',6,'2700b808-8b50-4dc5-ae10-ec0929ccc2cc','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',34,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','day-closed',1,'{"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217"}','[{"stream":"day:54f8f7d0-7c40-4916-b60f-73bf653ac217","version":3}]');
INSERT INTO "event" VALUES(59,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',8,'fd9e15d7-75ff-4578-9393-7878cec77087','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',30,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"68d66dcc-b842-4197-90f4-a1e887a71e34","what":"log:f7dba14f-d95e-4169-818e-3e321002dcfe"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":1}]');
INSERT INTO "event" VALUES(60,'photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',3,'bf28bfe3-c267-4cf1-9a1b-02c3831ba0e6','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',31,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','photo-filed',1,'{"about":"piece:59945789-fc92-436c-b73d-05019772febc","photo":"bae69d46-6bdd-43aa-9444-e9b08e925e6c"}','[{"stream":"photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c","version":0}]');
INSERT INTO "event" VALUES(61,'piece:c2926c76-8b1e-4eca-9900-1cba5556f25c',1,'98dabaef-4869-41b3-8451-56149d26c3b2','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',35,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":8,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"short","log":"46699f2f-689a-4621-9129-d071b8ee3f38","name":"A-29-X","piece":"c2926c76-8b1e-4eca-9900-1cba5556f25c","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.3515162441032488,0.27840938180167296]}','[{"stream":"piece:c2926c76-8b1e-4eca-9900-1cba5556f25c","version":2}]');
INSERT INTO "event" VALUES(62,'piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905',1,'7942fb55-bdca-4536-893d-d56639e37702','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',36,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-counted',1,'{"piece":"8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905","species":"elm","spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c"}','[{"stream":"piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905","version":3}]');
INSERT INTO "event" VALUES(63,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',4,'97c2d0c6-4f25-4b3f-91c4-e01887df6204','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',32,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-ended',1,'{"how":"given away","log":"3ad63da2-421a-4b8d-a6d3-e93185ae86b1"}','[{"stream":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1","version":3}]');
INSERT INTO "event" VALUES(64,'piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905',2,'d6180960-2d3a-4a91-8ee4-2ba7792c6d17','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',33,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','tagged',1,'{"name":"MK-20-Y","piece":"8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905"}','[{"stream":"piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905","version":3}]');
INSERT INTO "event" VALUES(65,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',9,'1afb84e3-4ae8-4074-993f-c90f7eceb96c','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',34,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-measured',1,'{"log":"f7dba14f-d95e-4169-818e-3e321002dcfe","sheet":"sheet again","species":"oak"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":3}]');
INSERT INTO "event" VALUES(66,'piece:29f68213-8fb5-4266-9f90-6604389cfa76',2,'f837300a-6368-4a98-b309-e1b627bd9445','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',35,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-ended',1,'{"how":"sawn up","piece":"29f68213-8fb5-4266-9f90-6604389cfa76"}','[{"stream":"piece:29f68213-8fb5-4266-9f90-6604389cfa76","version":3}]');
INSERT INTO "event" VALUES(67,'piece:5ae91c9e-e51b-4458-ad01-94515d3848f4',1,'186fc676-db6f-4379-b184-e2f31eb42b2c','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',36,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-counted',1,'{"piece":"5ae91c9e-e51b-4458-ad01-94515d3848f4","species":"elm"}','[{"stream":"piece:5ae91c9e-e51b-4458-ad01-94515d3848f4","version":2}]');
INSERT INTO "event" VALUES(68,'day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',1,'a49960bf-b0e6-4fde-8017-8e4ed350220c','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',38,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','day-opened',1,'{"day":"44ff6cf8-1a3e-4f61-8c68-a01139e58e90","on":"2026-05-04"}','[{"stream":"day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90","version":2}]');
INSERT INTO "event" VALUES(69,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',10,'c72e0b73-d37a-4d3c-a046-20bc77a2c7df','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',39,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"97f5bf85-e1a4-4940-95a3-2b75ed04326c","what":"log:f7dba14f-d95e-4169-818e-3e321002dcfe"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":0}]');
INSERT INTO "event" VALUES(70,'day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',2,'9af2c6fb-7987-48ab-ace0-739f19a18928','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',37,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','day-closed',1,'{"day":"44ff6cf8-1a3e-4f61-8c68-a01139e58e90"}','[{"stream":"day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90","version":3}]');
INSERT INTO "event" VALUES(71,'piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4',1,'d7d9b8e3-f6db-422f-8eec-5b391241b746','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',40,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":4,"day":"44ff6cf8-1a3e-4f61-8c68-a01139e58e90","how":"thick","log":"46699f2f-689a-4621-9129-d071b8ee3f38","piece":"55ec3cfa-afdf-4f23-a964-c8c1e677bcc4","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.44445411814673086,0.40249695965797927]}','[{"stream":"piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4","version":2}]');
INSERT INTO "event" VALUES(72,'piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',1,'8ec98f17-d1a0-4867-987b-80492f5175f8','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',41,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":3,"day":"44ff6cf8-1a3e-4f61-8c68-a01139e58e90","how":"spoiled","log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","name":"MK-26-J","parent":"55ec3cfa-afdf-4f23-a964-c8c1e677bcc4","piece":"cb782573-558a-4b3e-b0cb-fd8649b1ac80","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.3781211371338391,0.27792579013729957]}','[{"stream":"piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80","version":2}]');
INSERT INTO "event" VALUES(73,'piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',2,'301b4fbe-1595-436e-8da0-baf9b629b0e2','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',38,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','weighed',1,'{"mass_kg":20.78635200135641,"what":"piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80"}','[{"stream":"piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80","version":0}]');
INSERT INTO "event" VALUES(74,'piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',1,'4339040e-abc4-47c8-924f-8b0049fb9f55','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',39,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','piece-counted',1,'{"name":"A-18-3","piece":"64fe1a6c-e1c0-437e-873c-b11e060cad7b","species":"elm","spot":"9f330eba-a783-4b8a-b765-a692e4255060"}','[{"stream":"piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b","version":3}]');
INSERT INTO "event" VALUES(75,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',11,'efb863f4-ebf5-4924-9ce1-307783b7f05e','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',40,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"9f330eba-a783-4b8a-b765-a692e4255060","what":"log:f7dba14f-d95e-4169-818e-3e321002dcfe"}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":1}]');
INSERT INTO "event" VALUES(76,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',7,'b5f38144-a903-4f1d-a463-a9f19408df1f','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',42,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"68d66dcc-b842-4197-90f4-a1e887a71e34","what":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de"}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":1}]');
INSERT INTO "event" VALUES(77,'piece:b0155e0c-953e-4507-a863-3ccbce839216',1,'be4e15b9-2137-49f5-84b5-fefa0a842d0f','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',41,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":4,"name":"MK-2-A","piece":"b0155e0c-953e-4507-a863-3ccbce839216","plan":"337ece39-a35d-4a11-b72e-4fb672946eed","widths_m":[0.564303158596062,0.577660410801922]}','[{"stream":"piece:b0155e0c-953e-4507-a863-3ccbce839216","version":3}]');
INSERT INTO "event" VALUES(78,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',8,'16c835b9-051a-414a-85f4-06eac08bfdc0','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',42,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-arrived',1,'{"log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","sheet":"sheet","species":"ash","spot":"68d66dcc-b842-4197-90f4-a1e887a71e34"}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":1}]');
INSERT INTO "event" VALUES(79,'set:323235c8-94dc-4998-9790-73068cdc10d4',1,'d72c0883-9e51-4a75-9ba0-c3d2e3ee0a9f','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',43,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','set-made',1,'{"pieces":["64fe1a6c-e1c0-437e-873c-b11e060cad7b","8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905","5ae91c9e-e51b-4458-ad01-94515d3848f4"],"set":"323235c8-94dc-4998-9790-73068cdc10d4"}','[{"stream":"set:323235c8-94dc-4998-9790-73068cdc10d4","version":0}]');
INSERT INTO "event" VALUES(80,'piece:5ae91c9e-e51b-4458-ad01-94515d3848f4',3,'046b5e97-5158-4596-9139-264c01436591','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',44,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":1,"how":"thick","log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","piece":"5ae91c9e-e51b-4458-ad01-94515d3848f4","widths_m":[0.5400150843867059,0.4792802641020878]}','[{"stream":"piece:5ae91c9e-e51b-4458-ad01-94515d3848f4","version":3}]');
INSERT INTO "event" VALUES(81,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',5,'8cd99e7e-ffdb-4f7c-ae2f-be57b887bbec','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',45,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"68d66dcc-b842-4197-90f4-a1e887a71e34","what":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1"}','[{"stream":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1","version":0}]');
INSERT INTO "event" VALUES(82,'piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',3,'3841f2f9-6f6e-43d8-a82f-e1e9739ec9f4','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',46,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":4,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","how":"spoiled","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","piece":"cb782573-558a-4b3e-b0cb-fd8649b1ac80","widths_m":[0.4187565063324262,0.4723071339699283]}','[{"stream":"piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80","version":3}]');
INSERT INTO "event" VALUES(83,'piece:b0155e0c-953e-4507-a863-3ccbce839216',2,'bd32b339-777a-4e05-92da-ac533a81e8cb','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',47,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','weighed',1,'{"mass_kg":24.849612081750763,"what":"piece:b0155e0c-953e-4507-a863-3ccbce839216"}','[{"stream":"piece:b0155e0c-953e-4507-a863-3ccbce839216","version":1}]');
INSERT INTO "event" VALUES(84,'piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36',1,'819552be-7062-4231-83e1-c9246396ed15','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',49,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":2,"how":"short","log":"46699f2f-689a-4621-9129-d071b8ee3f38","piece":"b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36","widths_m":[0.13504218054393843,0.23354750627012197]}','[{"stream":"piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36","version":1}]');
INSERT INTO "event" VALUES(85,'piece:58b2a183-fa9f-4049-ac42-88522550c87f',1,'ad0f6857-491e-496f-af70-a94ff3c62bb2','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',50,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":3,"day":"ddbed46c-7a27-40f5-a96a-b02aafb0a66e","name":"A-29-X","parent":"b0155e0c-953e-4507-a863-3ccbce839216","piece":"58b2a183-fa9f-4049-ac42-88522550c87f","widths_m":[0.2851265955689628,0.5923437361146787]}','[{"stream":"piece:58b2a183-fa9f-4049-ac42-88522550c87f","version":3}]');
INSERT INTO "event" VALUES(86,'piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',3,'1ced8ce5-c0fb-4316-bd0d-01174484f02b','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',51,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":2,"how":"kept as a cant","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","name":"A-20-G","parent":"b0155e0c-953e-4507-a863-3ccbce839216","piece":"64fe1a6c-e1c0-437e-873c-b11e060cad7b","widths_m":[0.25660334652372374,0.16500244982652376]}','[{"stream":"piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b","version":1}]');
INSERT INTO "event" VALUES(87,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de',10,'3ffcc52d-cf07-4266-9e06-8cd8ac3ae84b','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',52,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"0eb3166a-dd94-4d04-923d-58c3e3c254de","pieces":["b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36","cb782573-558a-4b3e-b0cb-fd8649b1ac80","64fe1a6c-e1c0-437e-873c-b11e060cad7b"]}','[{"stream":"log:0eb3166a-dd94-4d04-923d-58c3e3c254de","version":0}]');
INSERT INTO "event" VALUES(88,'piece:58b2a183-fa9f-4049-ac42-88522550c87f',2,'dcd545e7-e52e-41a0-aed1-6b06ea966bd7','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',47,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','moved',1,'{"spot":"68d66dcc-b842-4197-90f4-a1e887a71e34","what":"piece:58b2a183-fa9f-4049-ac42-88522550c87f"}','[{"stream":"piece:58b2a183-fa9f-4049-ac42-88522550c87f","version":1}]');
INSERT INTO "event" VALUES(89,'photo:8bbf8339-c89c-4617-91b8-1940a0340776',1,'5789b34e-a8eb-46b9-9c3d-15b5c85e425a','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',48,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','photo-taken',1,'{"file":"09c026f3630caeca8d0ea54be9e731328d797a21dda6584704a04eb193f5aef8","photo":"8bbf8339-c89c-4617-91b8-1940a0340776","wet":true}','[{"stream":"photo:8bbf8339-c89c-4617-91b8-1940a0340776","version":3}]');
INSERT INTO "event" VALUES(90,'log:46699f2f-689a-4621-9129-d071b8ee3f38',13,'bb00cbab-d92f-4797-a94a-27a8dd0c0217','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',49,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','note-written',1,'{"about":"log:46699f2f-689a-4621-9129-d071b8ee3f38","words":"words"}','[{"stream":"log:46699f2f-689a-4621-9129-d071b8ee3f38","version":0}]');
INSERT INTO "event" VALUES(91,'spot:dacf1732-6227-44f4-862d-982052c548da',1,'ab2039b2-42c5-4e1d-8061-95f5473ca9db','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',53,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','spot-named',1,'{"called":"rack","spot":"dacf1732-6227-44f4-862d-982052c548da"}','[{"stream":"spot:dacf1732-6227-44f4-862d-982052c548da","version":3}]');
INSERT INTO "event" VALUES(92,'spot:cf072521-558f-48f7-925d-19c2d9ef4760',1,'beb62ac3-ec4c-49f9-b55a-9f9efd678367','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',54,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','spot-named',1,'{"called":"rack","spot":"cf072521-558f-48f7-925d-19c2d9ef4760"}','[{"stream":"spot:cf072521-558f-48f7-925d-19c2d9ef4760","version":2}]');
INSERT INTO "event" VALUES(93,'log:f7dba14f-d95e-4169-818e-3e321002dcfe',14,'3340c4ba-b67a-4eb9-b9e0-81e1cca5ec90','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',55,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','boule-put-in-order',1,'{"log":"f7dba14f-d95e-4169-818e-3e321002dcfe","pieces":["55ec3cfa-afdf-4f23-a964-c8c1e677bcc4","b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36","cb782573-558a-4b3e-b0cb-fd8649b1ac80"]}','[{"stream":"log:f7dba14f-d95e-4169-818e-3e321002dcfe","version":2}]');
INSERT INTO "event" VALUES(94,'piece:a9084abb-3a5e-4db5-bb69-79d90c163e06',1,'26e88a00-5a11-42b1-9a57-8e8e46efdd38','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',56,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":8,"day":"54f8f7d0-7c40-4916-b60f-73bf653ac217","how":"kept as a cant","log":"f7dba14f-d95e-4169-818e-3e321002dcfe","name":"A-34-5","piece":"a9084abb-3a5e-4db5-bb69-79d90c163e06","widths_m":[0.5627216125956563,0.561144661825029]}','[{"stream":"piece:a9084abb-3a5e-4db5-bb69-79d90c163e06","version":1}]');
INSERT INTO "event" VALUES(95,'piece:b0155e0c-953e-4507-a863-3ccbce839216',5,'f8c1f0db-50b6-4710-a84d-1da019b6ef9f','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',57,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','weighed',1,'{"mass_kg":89.16378100861539,"what":"piece:b0155e0c-953e-4507-a863-3ccbce839216"}','[{"stream":"piece:b0155e0c-953e-4507-a863-3ccbce839216","version":3}]');
INSERT INTO "event" VALUES(96,'spot:74c1350b-30f6-4e9c-bc9e-2ae3875a0a1b',1,'4ca57806-0282-4095-b156-0f9aa132bba4','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',58,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','spot-named',1,'{"called":"rack","spot":"74c1350b-30f6-4e9c-bc9e-2ae3875a0a1b"}','[{"stream":"spot:74c1350b-30f6-4e9c-bc9e-2ae3875a0a1b","version":1}]');
INSERT INTO "event" VALUES(97,'piece:5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef',1,'b1833646-12e2-45b5-afd9-3ec5ae2eb59a','153e0aa9-6b8d-4071-9526-a4a6b14c9d16',50,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":5,"day":"44ff6cf8-1a3e-4f61-8c68-a01139e58e90","how":"spoiled","log":"46699f2f-689a-4621-9129-d071b8ee3f38","name":"A-14-B","parent":"a9084abb-3a5e-4db5-bb69-79d90c163e06","piece":"5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef","widths_m":[0.5058640304923891,0.5892980327669826]}','[{"stream":"piece:5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef","version":0}]');
INSERT INTO "event" VALUES(98,'piece:a8bd34a5-9bf5-466b-a88b-28423619d00a',1,'ffcecf6a-02c4-4d6b-8f67-579b20aaaa7a','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',59,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','came-off',1,'{"cut":8,"how":"short","log":"46699f2f-689a-4621-9129-d071b8ee3f38","name":"A-28-0","parent":"58b2a183-fa9f-4049-ac42-88522550c87f","piece":"a8bd34a5-9bf5-466b-a88b-28423619d00a","plan":"9e39cd0b-41de-47cd-8129-3645b772423e","widths_m":[0.24187620289599468,0.5456407472505624]}','[{"stream":"piece:a8bd34a5-9bf5-466b-a88b-28423619d00a","version":1}]');
INSERT INTO "event" VALUES(99,'piece:a9084abb-3a5e-4db5-bb69-79d90c163e06',3,'ccef87b5-175b-4880-8206-46779f69a16f','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',60,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','taken-back',1,'{"about":"piece:a9084abb-3a5e-4db5-bb69-79d90c163e06","command":"26e88a00-5a11-42b1-9a57-8e8e46efdd38"}','[{"stream":"piece:a9084abb-3a5e-4db5-bb69-79d90c163e06","version":3}]');
INSERT INTO "event" VALUES(100,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',6,'4a679f2a-3841-48e4-a7a7-5348ee8427e2','faf9cfe7-4e6d-4157-81cf-4122989b7fa6',61,'','2026-05-04T09:12:30+02:00','2026-05-04T08:00:00.000+00:00','log-measured',1,'{"log":"3ad63da2-421a-4b8d-a6d3-e93185ae86b1","sheet":"sheet again","species":"oak"}','[{"stream":"log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1","version":3}]');
CREATE TABLE file (
	sha256 TEXT NOT NULL CHECK (length(sha256) = 64), 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (sha256)
)
 STRICT

;
INSERT INTO "file" VALUES('efdf366ffdbc66684008396f7b03fb12e2f5ad1dee4fe406e7fae8298e5fa7d1',4);
INSERT INTO "file" VALUES('4566315d827e27c2711bdca9216787ac6bf5aec9074948c76f4198bf28afc44c',14);
INSERT INTO "file" VALUES('31b7ba7ee0fc2f933414b3c3531d42d0e9b6a4fad39d692e0eef7c44afce6183',22);
INSERT INTO "file" VALUES('79757db2947723f8f3f082a0ba6a7a11817f0fb848c2abe40a1c8989394059eb',43);
INSERT INTO "file" VALUES('09c026f3630caeca8d0ea54be9e731328d797a21dda6584704a04eb193f5aef8',89);
CREATE TABLE happening (
	seq INTEGER NOT NULL, 
	day TEXT NOT NULL, 
	log TEXT, 
	piece TEXT, 
	what TEXT NOT NULL, 
	roll_deg REAL, 
	pith_m TEXT NOT NULL, 
	along_m REAL, 
	clock REAL, 
	words TEXT NOT NULL, 
	taken_back_seq INTEGER, 
	PRIMARY KEY (seq), 
	FOREIGN KEY(day) REFERENCES day (id), 
	FOREIGN KEY(log) REFERENCES log (id), 
	FOREIGN KEY(piece) REFERENCES piece (id)
)
 STRICT

;
INSERT INTO "happening" VALUES(30,'ddbed46c-7a27-40f5-a96a-b02aafb0a66e','0eb3166a-dd94-4d04-923d-58c3e3c254de',NULL,'blade wandered',NULL,'[]',NULL,NULL,'',NULL);
INSERT INTO "happening" VALUES(40,'54f8f7d0-7c40-4916-b60f-73bf653ac217','f7dba14f-d95e-4169-818e-3e321002dcfe','9471168c-5d70-41c0-be46-078cf2429acc','blade changed',NULL,'[]',NULL,NULL,'',NULL);
CREATE TABLE head (
	stream TEXT NOT NULL, 
	version INTEGER NOT NULL CHECK (version >= 1), 
	made INTEGER NOT NULL CHECK (made IN (0, 1)), 
	PRIMARY KEY (stream)
)
 STRICT

;
INSERT INTO "head" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',9,0);
INSERT INTO "head" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',7,1);
INSERT INTO "head" VALUES('photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',3,0);
INSERT INTO "head" VALUES('plan:9e39cd0b-41de-47cd-8129-3645b772423e',1,0);
INSERT INTO "head" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',11,1);
INSERT INTO "head" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',12,1);
INSERT INTO "head" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',15,1);
INSERT INTO "head" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',15,1);
INSERT INTO "head" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',6,1);
INSERT INTO "head" VALUES('photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed',2,1);
INSERT INTO "head" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',10,1);
INSERT INTO "head" VALUES('person:a7c69d3b-7815-47e5-86fa-8e0d0c4716a3',1,1);
INSERT INTO "head" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',8,1);
INSERT INTO "head" VALUES('plan:337ece39-a35d-4a11-b72e-4fb672946eed',2,1);
INSERT INTO "head" VALUES('piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4',3,1);
INSERT INTO "head" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',6,0);
INSERT INTO "head" VALUES('spot:9f330eba-a783-4b8a-b765-a692e4255060',5,1);
INSERT INTO "head" VALUES('piece:235efcac-c73a-49a9-9439-994a984bd122',1,0);
INSERT INTO "head" VALUES('piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef',2,1);
INSERT INTO "head" VALUES('piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562',2,1);
INSERT INTO "head" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',7,1);
INSERT INTO "head" VALUES('piece:320bc0ae-fd8e-47b2-8630-7f7755abf460',2,0);
INSERT INTO "head" VALUES('person:660bfb5f-8097-4aa7-8acf-c94de0484773',1,1);
INSERT INTO "head" VALUES('piece:59945789-fc92-436c-b73d-05019772febc',4,0);
INSERT INTO "head" VALUES('piece:b1159f8f-da76-40bf-b9bb-4a55217920ba',1,0);
INSERT INTO "head" VALUES('piece:fc78f23e-89a6-42d4-8ca9-1b54845cc1b9',1,0);
INSERT INTO "head" VALUES('piece:29f68213-8fb5-4266-9f90-6604389cfa76',2,0);
INSERT INTO "head" VALUES('piece:c2926c76-8b1e-4eca-9900-1cba5556f25c',1,0);
INSERT INTO "head" VALUES('piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905',3,1);
INSERT INTO "head" VALUES('piece:5ae91c9e-e51b-4458-ad01-94515d3848f4',3,1);
INSERT INTO "head" VALUES('day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',5,1);
INSERT INTO "head" VALUES('piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4',3,1);
INSERT INTO "head" VALUES('piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',5,1);
INSERT INTO "head" VALUES('piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',4,1);
INSERT INTO "head" VALUES('piece:b0155e0c-953e-4507-a863-3ccbce839216',5,1);
INSERT INTO "head" VALUES('set:323235c8-94dc-4998-9790-73068cdc10d4',1,1);
INSERT INTO "head" VALUES('piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36',3,1);
INSERT INTO "head" VALUES('piece:58b2a183-fa9f-4049-ac42-88522550c87f',3,1);
INSERT INTO "head" VALUES('photo:8bbf8339-c89c-4617-91b8-1940a0340776',1,1);
INSERT INTO "head" VALUES('spot:dacf1732-6227-44f4-862d-982052c548da',1,1);
INSERT INTO "head" VALUES('spot:cf072521-558f-48f7-925d-19c2d9ef4760',1,1);
INSERT INTO "head" VALUES('piece:a9084abb-3a5e-4db5-bb69-79d90c163e06',3,1);
INSERT INTO "head" VALUES('spot:74c1350b-30f6-4e9c-bc9e-2ae3875a0a1b',1,1);
INSERT INTO "head" VALUES('piece:5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef',1,1);
INSERT INTO "head" VALUES('piece:a8bd34a5-9bf5-466b-a88b-28423619d00a',1,0);
CREATE TABLE log (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	code TEXT NOT NULL, 
	species TEXT NOT NULL, 
	felled_on TEXT NOT NULL, 
	spot TEXT, 
	sheets INTEGER NOT NULL, 
	mass_kg REAL, 
	ended TEXT NOT NULL, 
	ended_seq INTEGER, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (code), 
	FOREIGN KEY(code) REFERENCES code (code), 
	FOREIGN KEY(spot) REFERENCES spot (id)
)
 STRICT

;
INSERT INTO "log" VALUES('46699f2f-689a-4621-9129-d071b8ee3f38','B','ash','',NULL,1,NULL,'all sawn',46,6);
INSERT INTO "log" VALUES('f7dba14f-d95e-4169-818e-3e321002dcfe','C','oak','',NULL,3,NULL,'all sawn',39,9);
INSERT INTO "log" VALUES('0eb3166a-dd94-4d04-923d-58c3e3c254de','D','oak','','68d66dcc-b842-4197-90f4-a1e887a71e34',2,NULL,'',NULL,17);
CREATE TABLE note (
	seq INTEGER NOT NULL, 
	about TEXT NOT NULL, 
	words TEXT NOT NULL, 
	taken_back_seq INTEGER, 
	PRIMARY KEY (seq)
)
 STRICT

;
INSERT INTO "note" VALUES(15,'log:46699f2f-689a-4621-9129-d071b8ee3f38','words',NULL);
INSERT INTO "note" VALUES(33,'log:0eb3166a-dd94-4d04-923d-58c3e3c254de','words',NULL);
INSERT INTO "note" VALUES(90,'log:46699f2f-689a-4621-9129-d071b8ee3f38','words',NULL);
CREATE TABLE person (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	called TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id)
)
 STRICT

;
INSERT INTO "person" VALUES('a7c69d3b-7815-47e5-86fa-8e0d0c4716a3','Jo',19);
INSERT INTO "person" VALUES('660bfb5f-8097-4aa7-8acf-c94de0484773','Jo',45);
CREATE TABLE photo (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	file TEXT NOT NULL, 
	about TEXT NOT NULL, 
	taken_at TEXT NOT NULL, 
	shows TEXT NOT NULL, 
	wet INTEGER CHECK (wet IN (0, 1)), 
	filed_seq INTEGER NOT NULL, 
	taken_back_seq INTEGER, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(file) REFERENCES file (sha256)
)
 STRICT

;
INSERT INTO "photo" VALUES('9becd416-fa5c-4256-9afb-e2ce2617d5ed','4566315d827e27c2711bdca9216787ac6bf5aec9074948c76f4198bf28afc44c','','','',NULL,14,NULL,14);
INSERT INTO "photo" VALUES('8bbf8339-c89c-4617-91b8-1940a0340776','09c026f3630caeca8d0ea54be9e731328d797a21dda6584704a04eb193f5aef8','','','',1,89,NULL,89);
CREATE TABLE piece (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	code TEXT, 
	number INTEGER CHECK (number >= 1), 
	species TEXT NOT NULL, 
	log TEXT, 
	day TEXT, 
	"plan" TEXT, 
	parent TEXT, 
	cut INTEGER, 
	boule_place INTEGER, 
	how TEXT NOT NULL, 
	off_by_m REAL, 
	height_m REAL, 
	thickness_m REAL, 
	length_m REAL, 
	least_width_m REAL, 
	most_width_m REAL, 
	widths_m TEXT NOT NULL, 
	place TEXT NOT NULL, 
	product TEXT NOT NULL, 
	spot TEXT, 
	mass_kg REAL, 
	bought INTEGER NOT NULL CHECK (bought IN (0, 1)), 
	ended TEXT NOT NULL, 
	ended_seq INTEGER, 
	taken_back_seq INTEGER, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (code, number), 
	FOREIGN KEY(code) REFERENCES code (code), 
	FOREIGN KEY(log) REFERENCES log (id), 
	FOREIGN KEY(day) REFERENCES day (id), 
	FOREIGN KEY("plan") REFERENCES "plan" (id), 
	FOREIGN KEY(parent) REFERENCES piece (id), 
	FOREIGN KEY(spot) REFERENCES spot (id)
)
 STRICT

;
INSERT INTO "piece" VALUES('73f81c55-b2b0-42fe-b792-002b99fd6fb4','E',1,'elm',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,'[]','[]','','68d66dcc-b842-4197-90f4-a1e887a71e34',NULL,0,'',NULL,NULL,24);
INSERT INTO "piece" VALUES('d3ca4ecf-3bad-42b1-aaa4-541b426e2bef','MK',40,'',NULL,'ddbed46c-7a27-40f5-a96a-b02aafb0a66e',NULL,NULL,2,NULL,'wedge',NULL,NULL,NULL,NULL,4.07593016279518272071e-01,4.90951800816377348368e-01,'[0.40759301627951827,0.49095180081637735]','[]','',NULL,NULL,0,'',NULL,NULL,35);
INSERT INTO "piece" VALUES('fcd2c0ea-0841-4a40-a923-9ff3a7453562','MK',7,'',NULL,'ddbed46c-7a27-40f5-a96a-b02aafb0a66e',NULL,NULL,7,NULL,'spoiled',NULL,NULL,NULL,NULL,1.8100991739168084682e-01,0.325454308716146,'[0.18100991739168085,0.325454308716146]','[]','',NULL,NULL,0,'',NULL,NULL,37);
INSERT INTO "piece" VALUES('85a790c2-32e1-4647-941d-37fb27873809','E',2,'elm',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,'[]','[]','','97f5bf85-e1a4-4940-95a3-2b75ed04326c',NULL,0,'',NULL,NULL,10);
INSERT INTO "piece" VALUES('9471168c-5d70-41c0-be46-078cf2429acc','E',3,'',NULL,'ddbed46c-7a27-40f5-a96a-b02aafb0a66e','337ece39-a35d-4a11-b72e-4fb672946eed',NULL,6,NULL,'wedge',NULL,NULL,NULL,NULL,3.63814707181199126218e-01,4.81850497565744717576e-01,'[0.3638147071811991,0.4818504975657447]','[]','',NULL,5.43871114439500331644e+01,0,'sawn up',32,NULL,5);
INSERT INTO "piece" VALUES('8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905','MK',20,'elm',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,'[]','[]','','97f5bf85-e1a4-4940-95a3-2b75ed04326c',NULL,0,'',NULL,NULL,62);
INSERT INTO "piece" VALUES('5ae91c9e-e51b-4458-ad01-94515d3848f4','E',5,'elm',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,'[]','[]','',NULL,NULL,0,'',NULL,NULL,67);
INSERT INTO "piece" VALUES('55ec3cfa-afdf-4f23-a964-c8c1e677bcc4','B',1,'ash','46699f2f-689a-4621-9129-d071b8ee3f38','44ff6cf8-1a3e-4f61-8c68-a01139e58e90','337ece39-a35d-4a11-b72e-4fb672946eed',NULL,4,NULL,'thick',NULL,NULL,NULL,NULL,4.02496959657979269664e-01,4.44454118146730858818e-01,'[0.44445411814673086,0.40249695965797927]','[]','',NULL,NULL,0,'',NULL,NULL,71);
INSERT INTO "piece" VALUES('cb782573-558a-4b3e-b0cb-fd8649b1ac80','MK',26,'oak','0eb3166a-dd94-4d04-923d-58c3e3c254de','44ff6cf8-1a3e-4f61-8c68-a01139e58e90','337ece39-a35d-4a11-b72e-4fb672946eed','55ec3cfa-afdf-4f23-a964-c8c1e677bcc4',3,NULL,'spoiled',NULL,NULL,NULL,NULL,2.77925790137299566495e-01,3.78121137133839102517e-01,'[0.3781211371338391,0.27792579013729957]','[]','',NULL,2.07863520013564091466e+01,0,'',NULL,NULL,72);
INSERT INTO "piece" VALUES('64fe1a6c-e1c0-437e-873c-b11e060cad7b','A',18,'elm',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,'[]','[]','','9f330eba-a783-4b8a-b765-a692e4255060',NULL,0,'',NULL,NULL,74);
INSERT INTO "piece" VALUES('b0155e0c-953e-4507-a863-3ccbce839216','MK',2,'',NULL,NULL,'337ece39-a35d-4a11-b72e-4fb672946eed',NULL,4,NULL,'as meant',NULL,NULL,NULL,NULL,0.564303158596062,0.577660410801922,'[0.564303158596062,0.577660410801922]','[]','',NULL,8.91637810086153876926e+01,0,'',NULL,NULL,77);
INSERT INTO "piece" VALUES('b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36','B',2,'ash','46699f2f-689a-4621-9129-d071b8ee3f38',NULL,NULL,NULL,2,NULL,'short',NULL,NULL,NULL,NULL,1.35042180543938433734e-01,2.33547506270121968396e-01,'[0.13504218054393843,0.23354750627012197]','[]','',NULL,NULL,0,'',NULL,NULL,84);
INSERT INTO "piece" VALUES('58b2a183-fa9f-4049-ac42-88522550c87f','A',29,'',NULL,'ddbed46c-7a27-40f5-a96a-b02aafb0a66e',NULL,'b0155e0c-953e-4507-a863-3ccbce839216',3,NULL,'as meant',NULL,NULL,NULL,NULL,2.85126595568962803994e-01,5.92343736114678720561e-01,'[0.2851265955689628,0.5923437361146787]','[]','','68d66dcc-b842-4197-90f4-a1e887a71e34',NULL,0,'',NULL,NULL,85);
INSERT INTO "piece" VALUES('a9084abb-3a5e-4db5-bb69-79d90c163e06','A',34,'oak','f7dba14f-d95e-4169-818e-3e321002dcfe','54f8f7d0-7c40-4916-b60f-73bf653ac217',NULL,NULL,8,NULL,'kept as a cant',NULL,NULL,NULL,NULL,0.561144661825029,5.62721612595656339728e-01,'[0.5627216125956563,0.561144661825029]','[]','',NULL,NULL,0,'',NULL,NULL,94);
INSERT INTO "piece" VALUES('5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef','A',14,'ash','46699f2f-689a-4621-9129-d071b8ee3f38','44ff6cf8-1a3e-4f61-8c68-a01139e58e90',NULL,'a9084abb-3a5e-4db5-bb69-79d90c163e06',5,NULL,'spoiled',NULL,NULL,NULL,NULL,5.05864030492389149529e-01,5.89298032766982560204e-01,'[0.5058640304923891,0.5892980327669826]','[]','',NULL,NULL,0,'',NULL,NULL,97);
CREATE TABLE "plan" (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	log TEXT NOT NULL, 
	sheet_number INTEGER NOT NULL, 
	file TEXT NOT NULL, 
	pattern TEXT NOT NULL, 
	pieces INTEGER NOT NULL, 
	written_by TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(log) REFERENCES log (id)
)
 STRICT

;
INSERT INTO "plan" VALUES('337ece39-a35d-4a11-b72e-4fb672946eed','0eb3166a-dd94-4d04-923d-58c3e3c254de',1,'79757db2947723f8f3f082a0ba6a7a11817f0fb848c2abe40a1c8989394059eb','through',9,'',43);
CREATE TABLE sheet (
	log TEXT NOT NULL, 
	number INTEGER NOT NULL, 
	text TEXT NOT NULL, 
	scan TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (log, number), 
	FOREIGN KEY(log) REFERENCES log (id)
)
 STRICT

;
INSERT INTO "sheet" VALUES('46699f2f-689a-4621-9129-d071b8ee3f38',1,'sheet','',6);
INSERT INTO "sheet" VALUES('f7dba14f-d95e-4169-818e-3e321002dcfe',1,'sheet','',9);
INSERT INTO "sheet" VALUES('0eb3166a-dd94-4d04-923d-58c3e3c254de',1,'sheet','',17);
INSERT INTO "sheet" VALUES('0eb3166a-dd94-4d04-923d-58c3e3c254de',2,'sheet again','',29);
INSERT INTO "sheet" VALUES('f7dba14f-d95e-4169-818e-3e321002dcfe',2,'sheet again','',31);
INSERT INTO "sheet" VALUES('f7dba14f-d95e-4169-818e-3e321002dcfe',3,'sheet again','',65);
CREATE TABLE spot (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	called TEXT NOT NULL, 
	within TEXT, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(within) REFERENCES spot (id)
)
 STRICT

;
INSERT INTO "spot" VALUES('68d66dcc-b842-4197-90f4-a1e887a71e34','rack',NULL,20);
INSERT INTO "spot" VALUES('9f330eba-a783-4b8a-b765-a692e4255060','rack',NULL,26);
INSERT INTO "spot" VALUES('97f5bf85-e1a4-4940-95a3-2b75ed04326c','rack',NULL,42);
INSERT INTO "spot" VALUES('dacf1732-6227-44f4-862d-982052c548da','rack',NULL,91);
INSERT INTO "spot" VALUES('cf072521-558f-48f7-925d-19c2d9ef4760','rack',NULL,92);
INSERT INTO "spot" VALUES('74c1350b-30f6-4e9c-bc9e-2ae3875a0a1b','rack',NULL,96);
CREATE TABLE task (
	id TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	about TEXT NOT NULL, 
	words TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	other_seq INTEGER, 
	opened_by INTEGER NOT NULL, 
	settled_by INTEGER, 
	PRIMARY KEY (id)
)
 STRICT

;
INSERT INTO "task" VALUES('waits-1','waits for what is not in the book yet','piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f','Not in the book yet: piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f, spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c.',1,NULL,1,NULL);
INSERT INTO "task" VALUES('waits-2','waits for what is not in the book yet','photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c','Not in the book yet: photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c, piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f.',2,NULL,2,NULL);
INSERT INTO "task" VALUES('waits-3','waits for what is not in the book yet','photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c','Not in the book yet: photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c, piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f.',3,NULL,3,NULL);
INSERT INTO "task" VALUES('waits-4','waits for what is not in the book yet','plan:9e39cd0b-41de-47cd-8129-3645b772423e','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1.',4,NULL,4,NULL);
INSERT INTO "task" VALUES('waits-5','waits for what is not in the book yet','piece:9471168c-5d70-41c0-be46-078cf2429acc','Not in the book yet: day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e, plan:337ece39-a35d-4a11-b72e-4fb672946eed.',5,NULL,5,43);
INSERT INTO "task" VALUES('waits-7','waits for what is not in the book yet','log:46699f2f-689a-4621-9129-d071b8ee3f38','Not in the book yet: piece:9471168c-5d70-41c0-be46-078cf2429acc, piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f.',7,NULL,7,NULL);
INSERT INTO "task" VALUES('waits-8','waits for what is not in the book yet','piece:9471168c-5d70-41c0-be46-078cf2429acc','Not in the book yet: command:9542c764-be6f-47d4-8317-22347036a930.',8,NULL,8,43);
INSERT INTO "task" VALUES('retag-9','write the tag again','log:f7dba14f-d95e-4169-818e-3e321002dcfe','B-0-X stands on two logs; the later one is C-0-U now: write its tag again.',9,6,9,NULL);
INSERT INTO "task" VALUES('waits-10','waits for what is not in the book yet','piece:85a790c2-32e1-4647-941d-37fb27873809','Not in the book yet: spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c.',10,NULL,10,42);
INSERT INTO "task" VALUES('waits-11','waits for what is not in the book yet','piece:85a790c2-32e1-4647-941d-37fb27873809','Not in the book yet: piece:85a790c2-32e1-4647-941d-37fb27873809, spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c.',11,NULL,11,42);
INSERT INTO "task" VALUES('waits-12','waits for what is not in the book yet','log:46699f2f-689a-4621-9129-d071b8ee3f38','Not in the book yet: piece:9471168c-5d70-41c0-be46-078cf2429acc, piece:85a790c2-32e1-4647-941d-37fb27873809.',12,NULL,12,43);
INSERT INTO "task" VALUES('waits-13','waits for what is not in the book yet','log:46699f2f-689a-4621-9129-d071b8ee3f38','Not in the book yet: piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f, piece:85a790c2-32e1-4647-941d-37fb27873809.',13,NULL,13,NULL);
INSERT INTO "task" VALUES('waits-16','waits for what is not in the book yet','piece:9471168c-5d70-41c0-be46-078cf2429acc','Not in the book yet: piece:9471168c-5d70-41c0-be46-078cf2429acc.',16,NULL,16,43);
INSERT INTO "task" VALUES('retag-17','write the tag again','log:0eb3166a-dd94-4d04-923d-58c3e3c254de','B-0-X stands on two logs; the later one is D-0-P now: write its tag again.',17,6,17,NULL);
INSERT INTO "task" VALUES('waits-18','waits for what is not in the book yet','piece:9471168c-5d70-41c0-be46-078cf2429acc','Not in the book yet: day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e, plan:337ece39-a35d-4a11-b72e-4fb672946eed.',18,NULL,18,43);
INSERT INTO "task" VALUES('waits-22','waits for what is not in the book yet','plan:337ece39-a35d-4a11-b72e-4fb672946eed','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1.',22,NULL,22,NULL);
INSERT INTO "task" VALUES('waits-23','waits for what is not in the book yet','log:0eb3166a-dd94-4d04-923d-58c3e3c254de','Not in the book yet: piece:85a790c2-32e1-4647-941d-37fb27873809, piece:9471168c-5d70-41c0-be46-078cf2429acc, piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f.',23,NULL,23,NULL);
INSERT INTO "task" VALUES('retag-24','write the tag again','piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4','No tag yet: write E-1-J on it.',24,NULL,24,NULL);
INSERT INTO "task" VALUES('waits-25','waits for what is not in the book yet','log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1, spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c.',25,NULL,25,NULL);
INSERT INTO "task" VALUES('waits-27','waits for what is not in the book yet','piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f','Not in the book yet: piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f.',27,NULL,27,NULL);
INSERT INTO "task" VALUES('waits-28','waits for what is not in the book yet','log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1, piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f, piece:9471168c-5d70-41c0-be46-078cf2429acc, piece:85a790c2-32e1-4647-941d-37fb27873809.',28,NULL,28,NULL);
INSERT INTO "task" VALUES('waits-32','waits for what is not in the book yet','piece:9471168c-5d70-41c0-be46-078cf2429acc','Not in the book yet: piece:9471168c-5d70-41c0-be46-078cf2429acc.',32,NULL,32,43);
INSERT INTO "task" VALUES('waits-34','waits for what is not in the book yet','piece:235efcac-c73a-49a9-9439-994a984bd122','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',34,NULL,34,NULL);
INSERT INTO "task" VALUES('waits-36','waits for what is not in the book yet','day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e','Not in the book yet: piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f.',36,NULL,36,NULL);
INSERT INTO "task" VALUES('waits-40','waits for what is not in the book yet','day:54f8f7d0-7c40-4916-b60f-73bf653ac217','Not in the book yet: piece:9471168c-5d70-41c0-be46-078cf2429acc.',40,NULL,40,43);
INSERT INTO "task" VALUES('waits-41','waits for what is not in the book yet','piece:9471168c-5d70-41c0-be46-078cf2429acc','Not in the book yet: plan:337ece39-a35d-4a11-b72e-4fb672946eed.',41,NULL,41,43);
INSERT INTO "task" VALUES('retag-10','write the tag again','piece:85a790c2-32e1-4647-941d-37fb27873809','No tag yet: write E-2-G on it.',10,NULL,42,NULL);
INSERT INTO "task" VALUES('retag-5','write the tag again','piece:9471168c-5d70-41c0-be46-078cf2429acc','No tag yet: write E-3-E on it.',5,NULL,43,NULL);
INSERT INTO "task" VALUES('both-12','two facts that cannot both be so','log:46699f2f-689a-4621-9129-d071b8ee3f38','One of these pieces is told to come from another log.',12,5,43,NULL);
INSERT INTO "task" VALUES('both-8','two facts that cannot both be so','piece:9471168c-5d70-41c0-be46-078cf2429acc','This piece is to be taken back, and yet more was told of it.',8,7,43,NULL);
INSERT INTO "task" VALUES('twice-18','made twice','piece:9471168c-5d70-41c0-be46-078cf2429acc','piece:9471168c-5d70-41c0-be46-078cf2429acc was made already; what was told this time stays in the history only.',18,NULL,43,NULL);
INSERT INTO "task" VALUES('twice-41','made twice','piece:9471168c-5d70-41c0-be46-078cf2429acc','piece:9471168c-5d70-41c0-be46-078cf2429acc was made already; what was told this time stays in the history only.',41,NULL,43,NULL);
INSERT INTO "task" VALUES('waits-44','waits for what is not in the book yet','piece:320bc0ae-fd8e-47b2-8630-7f7755abf460','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1, plan:9e39cd0b-41de-47cd-8129-3645b772423e.',44,NULL,44,NULL);
INSERT INTO "task" VALUES('twice-47','made twice','log:46699f2f-689a-4621-9129-d071b8ee3f38','log:46699f2f-689a-4621-9129-d071b8ee3f38 was made already; what was told this time stays in the history only.',47,NULL,47,NULL);
INSERT INTO "task" VALUES('waits-48','waits for what is not in the book yet','piece:59945789-fc92-436c-b73d-05019772febc','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',48,NULL,48,NULL);
INSERT INTO "task" VALUES('waits-49','waits for what is not in the book yet','piece:320bc0ae-fd8e-47b2-8630-7f7755abf460','Not in the book yet: piece:320bc0ae-fd8e-47b2-8630-7f7755abf460.',49,NULL,49,NULL);
INSERT INTO "task" VALUES('twice-50','made twice','piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4','piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4 was made already; what was told this time stays in the history only.',50,NULL,50,NULL);
INSERT INTO "task" VALUES('waits-52','waits for what is not in the book yet','piece:b1159f8f-da76-40bf-b9bb-4a55217920ba','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',52,NULL,52,NULL);
INSERT INTO "task" VALUES('waits-53','waits for what is not in the book yet','piece:fc78f23e-89a6-42d4-8ca9-1b54845cc1b9','Not in the book yet: piece:59945789-fc92-436c-b73d-05019772febc.',53,NULL,53,NULL);
INSERT INTO "task" VALUES('waits-54','waits for what is not in the book yet','piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',54,NULL,54,NULL);
INSERT INTO "task" VALUES('waits-55','waits for what is not in the book yet','photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed','Not in the book yet: piece:59945789-fc92-436c-b73d-05019772febc.',55,NULL,55,NULL);
INSERT INTO "task" VALUES('waits-56','waits for what is not in the book yet','piece:29f68213-8fb5-4266-9f90-6604389cfa76','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',56,NULL,56,NULL);
INSERT INTO "task" VALUES('both-57','two facts that cannot both be so','log:46699f2f-689a-4621-9129-d071b8ee3f38','The log is said to be all sawn, and to be given away.',57,46,57,NULL);
INSERT INTO "task" VALUES('both-59','two facts that cannot both be so','log:f7dba14f-d95e-4169-818e-3e321002dcfe','It is said to be no more (all sawn), and yet this was done to it.',59,39,59,NULL);
INSERT INTO "task" VALUES('waits-60','waits for what is not in the book yet','photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c','Not in the book yet: photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c, piece:59945789-fc92-436c-b73d-05019772febc.',60,NULL,60,NULL);
INSERT INTO "task" VALUES('waits-61','waits for what is not in the book yet','piece:c2926c76-8b1e-4eca-9900-1cba5556f25c','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',61,NULL,61,NULL);
INSERT INTO "task" VALUES('retag-62','write the tag again','piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905','No tag yet: write E-4-C on it.',62,NULL,62,NULL);
INSERT INTO "task" VALUES('waits-63','waits for what is not in the book yet','log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1.',63,NULL,63,NULL);
INSERT INTO "task" VALUES('waits-66','waits for what is not in the book yet','piece:29f68213-8fb5-4266-9f90-6604389cfa76','Not in the book yet: piece:29f68213-8fb5-4266-9f90-6604389cfa76.',66,NULL,66,NULL);
INSERT INTO "task" VALUES('retag-67','write the tag again','piece:5ae91c9e-e51b-4458-ad01-94515d3848f4','No tag yet: write E-5-A on it.',67,NULL,67,NULL);
INSERT INTO "task" VALUES('both-69','two facts that cannot both be so','log:f7dba14f-d95e-4169-818e-3e321002dcfe','It is said to be no more (all sawn), and yet this was done to it.',69,39,69,NULL);
INSERT INTO "task" VALUES('both-71','two facts that cannot both be so','piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4','A piece came off a log that is said to be no more (all sawn).',71,46,71,NULL);
INSERT INTO "task" VALUES('retag-71','write the tag again','piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4','No tag yet: write B-1-V on it.',71,NULL,71,NULL);
INSERT INTO "task" VALUES('both-75','two facts that cannot both be so','log:f7dba14f-d95e-4169-818e-3e321002dcfe','It is said to be no more (all sawn), and yet this was done to it.',75,39,75,NULL);
INSERT INTO "task" VALUES('both-77','two facts that cannot both be so','piece:b0155e0c-953e-4507-a863-3ccbce839216','Two pieces are told of cut 4. If it was tapped twice, take one back.',77,71,77,NULL);
INSERT INTO "task" VALUES('twice-78','made twice','log:0eb3166a-dd94-4d04-923d-58c3e3c254de','log:0eb3166a-dd94-4d04-923d-58c3e3c254de was made already; what was told this time stays in the history only.',78,NULL,78,NULL);
INSERT INTO "task" VALUES('twice-80','made twice','piece:5ae91c9e-e51b-4458-ad01-94515d3848f4','piece:5ae91c9e-e51b-4458-ad01-94515d3848f4 was made already; what was told this time stays in the history only.',80,NULL,80,NULL);
INSERT INTO "task" VALUES('waits-81','waits for what is not in the book yet','log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1.',81,NULL,81,NULL);
INSERT INTO "task" VALUES('twice-82','made twice','piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80','piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80 was made already; what was told this time stays in the history only.',82,NULL,82,NULL);
INSERT INTO "task" VALUES('both-84','two facts that cannot both be so','piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36','A piece came off a log that is said to be no more (all sawn).',84,46,84,NULL);
INSERT INTO "task" VALUES('retag-84','write the tag again','piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36','No tag yet: write B-2-T on it.',84,NULL,84,NULL);
INSERT INTO "task" VALUES('twice-86','made twice','piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b','piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b was made already; what was told this time stays in the history only.',86,NULL,86,NULL);
INSERT INTO "task" VALUES('both-87','two facts that cannot both be so','log:0eb3166a-dd94-4d04-923d-58c3e3c254de','One of these pieces is told to come from another log.',87,84,87,NULL);
INSERT INTO "task" VALUES('both-93','two facts that cannot both be so','log:f7dba14f-d95e-4169-818e-3e321002dcfe','One of these pieces is told to come from another log.',93,71,93,NULL);
INSERT INTO "task" VALUES('both-94','two facts that cannot both be so','piece:a9084abb-3a5e-4db5-bb69-79d90c163e06','A piece came off a log that is said to be no more (all sawn).',94,39,94,NULL);
INSERT INTO "task" VALUES('both-97','two facts that cannot both be so','piece:5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef','A piece came off a log that is said to be no more (all sawn).',97,46,97,NULL);
INSERT INTO "task" VALUES('waits-98','waits for what is not in the book yet','piece:a8bd34a5-9bf5-466b-a88b-28423619d00a','Not in the book yet: plan:9e39cd0b-41de-47cd-8129-3645b772423e.',98,NULL,98,NULL);
INSERT INTO "task" VALUES('both-99','two facts that cannot both be so','piece:a9084abb-3a5e-4db5-bb69-79d90c163e06','This piece is to be taken back, and yet more was told of it.',99,97,99,NULL);
INSERT INTO "task" VALUES('waits-100','waits for what is not in the book yet','log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1','Not in the book yet: log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1.',100,NULL,100,NULL);
CREATE TABLE together (
	id TEXT NOT NULL CHECK (length(id) = 36), 
	called TEXT NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (id)
)
 STRICT

;
INSERT INTO "together" VALUES('323235c8-94dc-4998-9790-73068cdc10d4','',79);
CREATE TABLE together_piece (
	piece TEXT NOT NULL, 
	together TEXT NOT NULL, 
	place INTEGER NOT NULL, 
	PRIMARY KEY (piece), 
	FOREIGN KEY(piece) REFERENCES piece (id), 
	FOREIGN KEY(together) REFERENCES together (id)
)
 STRICT

;
INSERT INTO "together_piece" VALUES('64fe1a6c-e1c0-437e-873c-b11e060cad7b','323235c8-94dc-4998-9790-73068cdc10d4',1);
INSERT INTO "together_piece" VALUES('8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905','323235c8-94dc-4998-9790-73068cdc10d4',2);
INSERT INTO "together_piece" VALUES('5ae91c9e-e51b-4458-ad01-94515d3848f4','323235c8-94dc-4998-9790-73068cdc10d4',3);
CREATE TABLE touched (
	stream TEXT NOT NULL, 
	number INTEGER NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (stream, number)
)
 STRICT

;
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',1,1);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',1,1);
INSERT INTO "touched" VALUES('photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',1,2);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',2,2);
INSERT INTO "touched" VALUES('photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',2,3);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',3,3);
INSERT INTO "touched" VALUES('plan:9e39cd0b-41de-47cd-8129-3645b772423e',1,4);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',1,5);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',1,5);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',1,6);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',2,7);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',2,7);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',4,7);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',3,8);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',1,9);
INSERT INTO "touched" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',1,10);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',2,10);
INSERT INTO "touched" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',2,11);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',3,11);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',3,12);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',4,12);
INSERT INTO "touched" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',3,12);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',4,13);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',5,13);
INSERT INTO "touched" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',4,13);
INSERT INTO "touched" VALUES('photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed',1,14);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',5,15);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',5,16);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',1,17);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',6,18);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',2,18);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',2,18);
INSERT INTO "touched" VALUES('person:a7c69d3b-7815-47e5-86fa-8e0d0c4716a3',1,19);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',1,20);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',3,21);
INSERT INTO "touched" VALUES('plan:337ece39-a35d-4a11-b72e-4fb672946eed',1,22);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',2,23);
INSERT INTO "touched" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',5,23);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',7,23);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',6,23);
INSERT INTO "touched" VALUES('piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4',1,24);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',2,24);
INSERT INTO "touched" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',1,25);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',4,25);
INSERT INTO "touched" VALUES('spot:9f330eba-a783-4b8a-b765-a692e4255060',1,26);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',7,27);
INSERT INTO "touched" VALUES('spot:9f330eba-a783-4b8a-b765-a692e4255060',2,27);
INSERT INTO "touched" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',2,28);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',8,28);
INSERT INTO "touched" VALUES('piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4',2,28);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',8,28);
INSERT INTO "touched" VALUES('piece:85a790c2-32e1-4647-941d-37fb27873809',6,28);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',3,29);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',4,30);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',4,30);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',3,31);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',9,32);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',5,33);
INSERT INTO "touched" VALUES('piece:235efcac-c73a-49a9-9439-994a984bd122',1,34);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',5,34);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',6,34);
INSERT INTO "touched" VALUES('piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef',1,35);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',6,35);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',7,36);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',4,36);
INSERT INTO "touched" VALUES('piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f',9,36);
INSERT INTO "touched" VALUES('piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562',1,37);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',8,37);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',1,38);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',5,39);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',2,40);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',6,40);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',10,40);
INSERT INTO "touched" VALUES('piece:9471168c-5d70-41c0-be46-078cf2429acc',11,41);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',3,41);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',7,41);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',5,42);
INSERT INTO "touched" VALUES('plan:337ece39-a35d-4a11-b72e-4fb672946eed',2,43);
INSERT INTO "touched" VALUES('piece:320bc0ae-fd8e-47b2-8630-7f7755abf460',1,44);
INSERT INTO "touched" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',3,44);
INSERT INTO "touched" VALUES('person:660bfb5f-8097-4aa7-8acf-c94de0484773',1,45);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',7,46);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',8,47);
INSERT INTO "touched" VALUES('piece:59945789-fc92-436c-b73d-05019772febc',1,48);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',4,48);
INSERT INTO "touched" VALUES('piece:320bc0ae-fd8e-47b2-8630-7f7755abf460',2,49);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',3,49);
INSERT INTO "touched" VALUES('piece:73f81c55-b2b0-42fe-b792-002b99fd6fb4',3,50);
INSERT INTO "touched" VALUES('spot:9f330eba-a783-4b8a-b765-a692e4255060',3,50);
INSERT INTO "touched" VALUES('piece:d3ca4ecf-3bad-42b1-aaa4-541b426e2bef',2,51);
INSERT INTO "touched" VALUES('piece:b1159f8f-da76-40bf-b9bb-4a55217920ba',1,52);
INSERT INTO "touched" VALUES('piece:fc78f23e-89a6-42d4-8ca9-1b54845cc1b9',1,53);
INSERT INTO "touched" VALUES('piece:59945789-fc92-436c-b73d-05019772febc',2,53);
INSERT INTO "touched" VALUES('piece:fcd2c0ea-0841-4a40-a923-9ff3a7453562',2,54);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',9,54);
INSERT INTO "touched" VALUES('photo:9becd416-fa5c-4256-9afb-e2ce2617d5ed',2,55);
INSERT INTO "touched" VALUES('piece:59945789-fc92-436c-b73d-05019772febc',3,55);
INSERT INTO "touched" VALUES('piece:29f68213-8fb5-4266-9f90-6604389cfa76',1,56);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',5,56);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',9,57);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',6,58);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',8,59);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',4,59);
INSERT INTO "touched" VALUES('photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c',3,60);
INSERT INTO "touched" VALUES('piece:59945789-fc92-436c-b73d-05019772febc',4,60);
INSERT INTO "touched" VALUES('piece:c2926c76-8b1e-4eca-9900-1cba5556f25c',1,61);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',10,61);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',10,61);
INSERT INTO "touched" VALUES('piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905',1,62);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',6,62);
INSERT INTO "touched" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',4,63);
INSERT INTO "touched" VALUES('piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905',2,64);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',9,65);
INSERT INTO "touched" VALUES('piece:29f68213-8fb5-4266-9f90-6604389cfa76',2,66);
INSERT INTO "touched" VALUES('piece:5ae91c9e-e51b-4458-ad01-94515d3848f4',1,67);
INSERT INTO "touched" VALUES('day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',1,68);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',10,69);
INSERT INTO "touched" VALUES('spot:97f5bf85-e1a4-4940-95a3-2b75ed04326c',7,69);
INSERT INTO "touched" VALUES('day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',2,70);
INSERT INTO "touched" VALUES('piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4',1,71);
INSERT INTO "touched" VALUES('day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',3,71);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',11,71);
INSERT INTO "touched" VALUES('piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',1,72);
INSERT INTO "touched" VALUES('day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',4,72);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',6,72);
INSERT INTO "touched" VALUES('piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4',2,72);
INSERT INTO "touched" VALUES('piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',2,73);
INSERT INTO "touched" VALUES('piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',1,74);
INSERT INTO "touched" VALUES('spot:9f330eba-a783-4b8a-b765-a692e4255060',4,74);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',11,75);
INSERT INTO "touched" VALUES('spot:9f330eba-a783-4b8a-b765-a692e4255060',5,75);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',7,76);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',5,76);
INSERT INTO "touched" VALUES('piece:b0155e0c-953e-4507-a863-3ccbce839216',1,77);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',8,78);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',6,78);
INSERT INTO "touched" VALUES('set:323235c8-94dc-4998-9790-73068cdc10d4',1,79);
INSERT INTO "touched" VALUES('piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',2,79);
INSERT INTO "touched" VALUES('piece:8bff8c3d-7b0a-4cd7-8eb6-8aff8039b905',3,79);
INSERT INTO "touched" VALUES('piece:5ae91c9e-e51b-4458-ad01-94515d3848f4',2,79);
INSERT INTO "touched" VALUES('piece:5ae91c9e-e51b-4458-ad01-94515d3848f4',3,80);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',9,80);
INSERT INTO "touched" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',5,81);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',7,81);
INSERT INTO "touched" VALUES('piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',3,82);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',11,82);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',12,82);
INSERT INTO "touched" VALUES('piece:b0155e0c-953e-4507-a863-3ccbce839216',2,83);
INSERT INTO "touched" VALUES('piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36',1,84);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',12,84);
INSERT INTO "touched" VALUES('piece:58b2a183-fa9f-4049-ac42-88522550c87f',1,85);
INSERT INTO "touched" VALUES('day:ddbed46c-7a27-40f5-a96a-b02aafb0a66e',12,85);
INSERT INTO "touched" VALUES('piece:b0155e0c-953e-4507-a863-3ccbce839216',3,85);
INSERT INTO "touched" VALUES('piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',3,86);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',13,86);
INSERT INTO "touched" VALUES('piece:b0155e0c-953e-4507-a863-3ccbce839216',4,86);
INSERT INTO "touched" VALUES('log:0eb3166a-dd94-4d04-923d-58c3e3c254de',10,87);
INSERT INTO "touched" VALUES('piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36',2,87);
INSERT INTO "touched" VALUES('piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',4,87);
INSERT INTO "touched" VALUES('piece:64fe1a6c-e1c0-437e-873c-b11e060cad7b',4,87);
INSERT INTO "touched" VALUES('piece:58b2a183-fa9f-4049-ac42-88522550c87f',2,88);
INSERT INTO "touched" VALUES('spot:68d66dcc-b842-4197-90f4-a1e887a71e34',8,88);
INSERT INTO "touched" VALUES('photo:8bbf8339-c89c-4617-91b8-1940a0340776',1,89);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',13,90);
INSERT INTO "touched" VALUES('spot:dacf1732-6227-44f4-862d-982052c548da',1,91);
INSERT INTO "touched" VALUES('spot:cf072521-558f-48f7-925d-19c2d9ef4760',1,92);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',14,93);
INSERT INTO "touched" VALUES('piece:55ec3cfa-afdf-4f23-a964-c8c1e677bcc4',3,93);
INSERT INTO "touched" VALUES('piece:b7ac6cee-4cb8-4f57-ab6d-bbc518a52b36',3,93);
INSERT INTO "touched" VALUES('piece:cb782573-558a-4b3e-b0cb-fd8649b1ac80',5,93);
INSERT INTO "touched" VALUES('piece:a9084abb-3a5e-4db5-bb69-79d90c163e06',1,94);
INSERT INTO "touched" VALUES('day:54f8f7d0-7c40-4916-b60f-73bf653ac217',7,94);
INSERT INTO "touched" VALUES('log:f7dba14f-d95e-4169-818e-3e321002dcfe',15,94);
INSERT INTO "touched" VALUES('piece:b0155e0c-953e-4507-a863-3ccbce839216',5,95);
INSERT INTO "touched" VALUES('spot:74c1350b-30f6-4e9c-bc9e-2ae3875a0a1b',1,96);
INSERT INTO "touched" VALUES('piece:5b6149e3-2b41-4859-a0ed-1f6b73d9b1ef',1,97);
INSERT INTO "touched" VALUES('day:44ff6cf8-1a3e-4f61-8c68-a01139e58e90',5,97);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',14,97);
INSERT INTO "touched" VALUES('piece:a9084abb-3a5e-4db5-bb69-79d90c163e06',2,97);
INSERT INTO "touched" VALUES('piece:a8bd34a5-9bf5-466b-a88b-28423619d00a',1,98);
INSERT INTO "touched" VALUES('log:46699f2f-689a-4621-9129-d071b8ee3f38',15,98);
INSERT INTO "touched" VALUES('piece:58b2a183-fa9f-4049-ac42-88522550c87f',3,98);
INSERT INTO "touched" VALUES('piece:a9084abb-3a5e-4db5-bb69-79d90c163e06',3,99);
INSERT INTO "touched" VALUES('log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1',6,100);
CREATE TABLE waiting (
	seq INTEGER NOT NULL, 
	missing TEXT NOT NULL, 
	PRIMARY KEY (seq, missing)
)
 STRICT

;
INSERT INTO "waiting" VALUES(1,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(2,'photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c');
INSERT INTO "waiting" VALUES(2,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(3,'photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c');
INSERT INTO "waiting" VALUES(3,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(4,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(7,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(13,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(22,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(23,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(25,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(27,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(28,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(28,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(34,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(36,'piece:677a129e-a61e-4e2a-bc7a-4dd47cdf9e0f');
INSERT INTO "waiting" VALUES(44,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(44,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(48,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(49,'piece:320bc0ae-fd8e-47b2-8630-7f7755abf460');
INSERT INTO "waiting" VALUES(52,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(53,'piece:59945789-fc92-436c-b73d-05019772febc');
INSERT INTO "waiting" VALUES(54,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(55,'piece:59945789-fc92-436c-b73d-05019772febc');
INSERT INTO "waiting" VALUES(56,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(60,'photo:bae69d46-6bdd-43aa-9444-e9b08e925e6c');
INSERT INTO "waiting" VALUES(60,'piece:59945789-fc92-436c-b73d-05019772febc');
INSERT INTO "waiting" VALUES(61,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(63,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(66,'piece:29f68213-8fb5-4266-9f90-6604389cfa76');
INSERT INTO "waiting" VALUES(81,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
INSERT INTO "waiting" VALUES(98,'plan:9e39cd0b-41de-47cd-8129-3645b772423e');
INSERT INTO "waiting" VALUES(100,'log:3ad63da2-421a-4b8d-a6d3-e93185ae86b1');
CREATE INDEX event_device ON event (device, count);
CREATE TRIGGER event_no_update BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
CREATE TRIGGER event_no_delete BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
CREATE INDEX ix_touched_seq ON touched (seq);
CREATE INDEX ix_waiting_missing ON waiting (missing);
CREATE INDEX ix_task_opened_by ON task (opened_by);
CREATE INDEX ix_task_about ON task (about);
CREATE INDEX ix_spot_within ON spot (within);
CREATE INDEX ix_note_about ON note (about);
CREATE INDEX ix_log_spot ON log (spot);
CREATE INDEX ix_photo_about ON photo (about);
CREATE INDEX ix_plan_log ON "plan" (log);
CREATE INDEX ix_piece_log ON piece (log);
CREATE INDEX ix_piece_parent ON piece (parent);
CREATE INDEX ix_piece_plan ON piece ("plan");
CREATE INDEX ix_piece_day ON piece (day);
CREATE INDEX piece_sizes ON piece (species, thickness_m);
CREATE INDEX ix_piece_spot ON piece (spot);
CREATE INDEX piece_cut ON piece ("plan", cut);
CREATE INDEX ix_happening_piece ON happening (piece);
CREATE INDEX ix_happening_day ON happening (day);
CREATE INDEX ix_happening_log ON happening (log);
CREATE INDEX ix_together_piece_together ON together_piece (together);
COMMIT;
