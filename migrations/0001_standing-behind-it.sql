CREATE TABLE `corrective_action_causes` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`action_id` text NOT NULL,
	`decision_id` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`action_id`) REFERENCES `corrective_actions`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`decision_id`) REFERENCES `comeback_decisions`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `corrective_action_causes_pair` ON `corrective_action_causes` (`action_id`,`decision_id`);--> statement-breakpoint
CREATE INDEX `corrective_action_causes_decision` ON `corrective_action_causes` (`decision_id`);--> statement-breakpoint
CREATE TABLE `corrective_actions` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`what` text NOT NULL,
	`done_on` text NOT NULL,
	`look_operation_id` text,
	`look_component_id` text,
	`supersedes_id` text,
	`reason` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`look_operation_id`) REFERENCES `operations`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`look_component_id`) REFERENCES `components`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supersedes_id`) REFERENCES `corrective_actions`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "done_on_day" CHECK("corrective_actions"."done_on" is null or date("corrective_actions"."done_on") = "corrective_actions"."done_on"),
	CONSTRAINT "what_not_empty" CHECK("corrective_actions"."what" <> ''),
	CONSTRAINT "reason_not_empty" CHECK("corrective_actions"."reason" <> ''),
	CONSTRAINT "corrective_actions_whole_look" CHECK(("corrective_actions"."look_operation_id" is null) = ("corrective_actions"."look_component_id" is null)),
	CONSTRAINT "corrective_actions_reason" CHECK(("corrective_actions"."supersedes_id" is null) = ("corrective_actions"."reason" is null))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `corrective_actions_supersedes_id_unique` ON `corrective_actions` (`supersedes_id`);--> statement-breakpoint
CREATE TABLE `recoveries` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`decision_id` text NOT NULL,
	`supplier_id` text NOT NULL,
	`amount_minor` integer NOT NULL,
	`deadline_on` text NOT NULL,
	`state` text NOT NULL,
	`part_line_id` text,
	`kept_where` text,
	`supersedes_id` text,
	`reason` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`decision_id`) REFERENCES `comeback_decisions`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supplier_id`) REFERENCES `suppliers`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`part_line_id`) REFERENCES `part_lines`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supersedes_id`) REFERENCES `recoveries`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "state_word" CHECK("recoveries"."state" = 'claimed' or "recoveries"."state" = 'agreed' or "recoveries"."state" = 'paid' or "recoveries"."state" = 'refused' or "recoveries"."state" = 'given_up'),
	CONSTRAINT "deadline_on_day" CHECK("recoveries"."deadline_on" is null or date("recoveries"."deadline_on") = "recoveries"."deadline_on"),
	CONSTRAINT "amount_minor_safe" CHECK(abs("recoveries"."amount_minor") <= 9007199254740991),
	CONSTRAINT "kept_where_not_empty" CHECK("recoveries"."kept_where" <> ''),
	CONSTRAINT "reason_not_empty" CHECK("recoveries"."reason" <> ''),
	CONSTRAINT "recoveries_amount" CHECK("recoveries"."amount_minor" >= 0),
	CONSTRAINT "recoveries_reason" CHECK(("recoveries"."supersedes_id" is null) = ("recoveries"."reason" is null))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `recoveries_supersedes_id_unique` ON `recoveries` (`supersedes_id`);--> statement-breakpoint
CREATE INDEX `recoveries_decision` ON `recoveries` (`decision_id`);--> statement-breakpoint
CREATE TABLE `month_issues` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`month` text NOT NULL,
	`as_known_on` text NOT NULL,
	`method` text NOT NULL,
	`figures` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "as_known_on_day" CHECK("month_issues"."as_known_on" is null or date("month_issues"."as_known_on") = "month_issues"."as_known_on"),
	CONSTRAINT "figures_json" CHECK("month_issues"."figures" is null or json_valid("month_issues"."figures")),
	CONSTRAINT "month_not_empty" CHECK("month_issues"."month" <> ''),
	CONSTRAINT "method_not_empty" CHECK("month_issues"."method" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `month_issues_month_unique` ON `month_issues` (`month`);--> statement-breakpoint
CREATE TRIGGER corrective_action_causes_never_deleted BEFORE DELETE ON corrective_action_causes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER corrective_action_causes_never_changed BEFORE UPDATE ON corrective_action_causes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER corrective_actions_never_deleted BEFORE DELETE ON corrective_actions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER corrective_actions_never_changed BEFORE UPDATE ON corrective_actions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER month_issues_never_deleted BEFORE DELETE ON month_issues BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER month_issues_never_changed BEFORE UPDATE ON month_issues BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER recoveries_never_deleted BEFORE DELETE ON recoveries BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER recoveries_never_changed BEFORE UPDATE ON recoveries BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
