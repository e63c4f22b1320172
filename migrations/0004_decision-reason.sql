ALTER TABLE `comeback_decisions` ADD COLUMN `reason` text CONSTRAINT "reason_not_empty" CHECK(`reason` <> '');
