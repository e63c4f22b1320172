CREATE TABLE `checks_made` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`component_id` text NOT NULL,
	`symptom_id` text,
	`finding_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`component_id`) REFERENCES `components`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`symptom_id`) REFERENCES `symptoms`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `findings`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `checks_made_order` ON `checks_made` (`work_order_id`);--> statement-breakpoint
CREATE INDEX `checks_made_component` ON `checks_made` (`component_id`);--> statement-breakpoint
CREATE TRIGGER checks_made_never_deleted BEFORE DELETE ON checks_made BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER checks_made_never_changed BEFORE UPDATE ON checks_made BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
