CREATE TABLE `tool_shortfalls` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`tool_in_id` text NOT NULL,
	`count` integer NOT NULL,
	`may_be` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`tool_in_id`) REFERENCES `tools_in`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "tool_shortfalls_count" CHECK("tool_shortfalls"."count" >= 0),
	CONSTRAINT "may_be_not_empty" CHECK("tool_shortfalls"."may_be" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `tool_shortfalls_tool` ON `tool_shortfalls` (`tool_in_id`);--> statement-breakpoint
CREATE TRIGGER tool_shortfalls_never_deleted BEFORE DELETE ON tool_shortfalls BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_shortfalls_never_changed BEFORE UPDATE ON tool_shortfalls BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
ALTER TABLE `tool_removals` ADD COLUMN `count` integer CONSTRAINT "tool_removals_count" CHECK(`count` >= 0);--> statement-breakpoint
ALTER TABLE `tool_removals` ADD COLUMN `not_inside` text CONSTRAINT "not_inside_not_empty" CHECK(`not_inside` <> '');--> statement-breakpoint
ALTER TABLE `job_marks` ADD COLUMN `behind_step_id` text REFERENCES `access_steps`(`id`);--> statement-breakpoint
ALTER TABLE `job_marks` ADD COLUMN `photo` integer CONSTRAINT "photo_boolean" CHECK(`photo` in (0, 1));
