CREATE TABLE `api_tokens` (
	`id` text PRIMARY KEY NOT NULL,
	`person_id` text NOT NULL,
	`created_at` integer NOT NULL,
	FOREIGN KEY (`person_id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `passwords` (
	`id` text PRIMARY KEY NOT NULL,
	`scrypt` text NOT NULL,
	`one_time` integer NOT NULL,
	`set_at` integer NOT NULL,
	FOREIGN KEY (`id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "one_time_boolean" CHECK("passwords"."one_time" in (0, 1))
) STRICT;
--> statement-breakpoint
CREATE TABLE `people` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`name` text NOT NULL,
	`role` text NOT NULL,
	`kind` text NOT NULL,
	CONSTRAINT "role_word" CHECK("people"."role" = 'desk' or "people"."role" = 'technician' or "people"."role" = 'owner'),
	CONSTRAINT "kind_word" CHECK("people"."kind" = 'person' or "people"."kind" = 'token'),
	CONSTRAINT "name_not_empty" CHECK("people"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `people_name_unique` ON `people` (`name`);--> statement-breakpoint
CREATE TABLE `sessions` (
	`id` text PRIMARY KEY NOT NULL,
	`person_id` text NOT NULL,
	`created_at` integer NOT NULL,
	`expires_at` integer NOT NULL,
	`notice` text,
	FOREIGN KEY (`person_id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `settings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`place` text,
	`address` text,
	`invoice_note` text,
	`time_zone` text NOT NULL,
	`locale` text NOT NULL,
	`currency` text NOT NULL,
	`labour_rate_minor` integer NOT NULL,
	`cost_rate_minor` integer NOT NULL,
	`our_share_bp` integer NOT NULL,
	`tax_bp` integer NOT NULL,
	`default_tolerance_bp` integer NOT NULL,
	`gauge_uncertainty_deg` real NOT NULL,
	`warranty_days` integer NOT NULL,
	`warranty_km` integer NOT NULL,
	`comeback_window_days` integer NOT NULL,
	`torque_unit` text NOT NULL,
	`paint_mark_uncertainty_deg` real NOT NULL,
	`stage_as_set_on_safety` integer NOT NULL,
	`look_again_after_minutes` integer,
	`calibration_months` integer NOT NULL,
	`calibration_cycles` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "settings_one_row" CHECK("settings"."id" = 'workshop'),
	CONSTRAINT "name_not_empty" CHECK("settings"."name" <> ''),
	CONSTRAINT "place_not_empty" CHECK("settings"."place" <> ''),
	CONSTRAINT "address_not_empty" CHECK("settings"."address" <> ''),
	CONSTRAINT "invoice_note_not_empty" CHECK("settings"."invoice_note" <> ''),
	CONSTRAINT "labour_rate_minor_safe" CHECK(abs("settings"."labour_rate_minor") <= 9007199254740991),
	CONSTRAINT "cost_rate_minor_safe" CHECK(abs("settings"."cost_rate_minor") <= 9007199254740991),
	CONSTRAINT "torque_unit_word" CHECK("settings"."torque_unit" = 'N.m' or "settings"."torque_unit" = 'kgf.m' or "settings"."torque_unit" = 'lbf.ft' or "settings"."torque_unit" = 'lbf.in'),
	CONSTRAINT "stage_as_set_on_safety_boolean" CHECK("settings"."stage_as_set_on_safety" in (0, 1))
) STRICT;
--> statement-breakpoint
CREATE TABLE `setup_links` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`used_at` integer
) STRICT;
--> statement-breakpoint
CREATE TABLE `attachments` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`sha256` text NOT NULL,
	`kind` text NOT NULL,
	`media_type` text NOT NULL,
	`bytes` integer NOT NULL,
	`file_name` text,
	`moment` text,
	`why` text,
	`mark_id` text,
	`look_id` text,
	`finding_id` text,
	`final_check_id` text,
	`work_order_id` text,
	`job_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`mark_id`) REFERENCES `job_marks`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`look_id`) REFERENCES `job_looks`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `findings`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`final_check_id`) REFERENCES `job_final_checks`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "kind_word" CHECK("attachments"."kind" = 'photo' or "attachments"."kind" = 'sound' or "attachments"."kind" = 'clip'),
	CONSTRAINT "media_type_word" CHECK("attachments"."media_type" = 'image/jpeg' or "attachments"."media_type" = 'audio/mpeg' or "attachments"."media_type" = 'audio/mp4' or "attachments"."media_type" = 'audio/ogg' or "attachments"."media_type" = 'audio/wav' or "attachments"."media_type" = 'audio/webm' or "attachments"."media_type" = 'video/mp4' or "attachments"."media_type" = 'video/webm' or "attachments"."media_type" = 'video/quicktime'),
	CONSTRAINT "moment_word" CHECK("attachments"."moment" = 'before' or "attachments"."moment" = 'after'),
	CONSTRAINT "file_name_not_empty" CHECK("attachments"."file_name" <> ''),
	CONSTRAINT "why_not_empty" CHECK("attachments"."why" <> ''),
	CONSTRAINT "bytes_safe" CHECK(abs("attachments"."bytes") <= 9007199254740991),
	CONSTRAINT "attachments_bytes" CHECK("attachments"."bytes" > 0),
	CONSTRAINT "attachments_sha256" CHECK(length("attachments"."sha256") = 64 and "attachments"."sha256" not glob '*[^0-9a-f]*'),
	CONSTRAINT "attachments_one_subject" CHECK(("attachments"."mark_id" is not null) + ("attachments"."look_id" is not null) + ("attachments"."finding_id" is not null)
        + ("attachments"."final_check_id" is not null) + ("attachments"."work_order_id" is not null) + ("attachments"."job_id" is not null) = 1)
) STRICT;
--> statement-breakpoint
CREATE INDEX `attachments_mark` ON `attachments` (`mark_id`);--> statement-breakpoint
CREATE INDEX `attachments_look` ON `attachments` (`look_id`);--> statement-breakpoint
CREATE INDEX `attachments_finding` ON `attachments` (`finding_id`);--> statement-breakpoint
CREATE INDEX `attachments_final_check` ON `attachments` (`final_check_id`);--> statement-breakpoint
CREATE INDEX `attachments_work_order` ON `attachments` (`work_order_id`);--> statement-breakpoint
CREATE INDEX `attachments_job` ON `attachments` (`job_id`);--> statement-breakpoint
CREATE TABLE `access_steps` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`hours` real NOT NULL,
	`needs` text NOT NULL,
	`exposes` text NOT NULL,
	`disturbs` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "needs_json" CHECK("access_steps"."needs" is null or json_valid("access_steps"."needs")),
	CONSTRAINT "exposes_json" CHECK("access_steps"."exposes" is null or json_valid("access_steps"."exposes")),
	CONSTRAINT "disturbs_json" CHECK("access_steps"."disturbs" is null or json_valid("access_steps"."disturbs")),
	CONSTRAINT "name_not_empty" CHECK("access_steps"."name" <> ''),
	CONSTRAINT "access_steps_hours" CHECK("access_steps"."hours" >= 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `access_steps_name_unique` ON `access_steps` (`name`);--> statement-breakpoint
CREATE TABLE `components` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`severity` text,
	`causes` text NOT NULL,
	`check_minutes` real,
	`access_step_ids` text NOT NULL,
	`makes_safe` integer NOT NULL,
	`not_before` text NOT NULL,
	`caution` text,
	`remedy_operation_id` text,
	`remedy_part_minor` integer,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`remedy_operation_id`) REFERENCES `operations`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "severity_word" CHECK("components"."severity" = 'safety' or "components"."severity" = 'breakdown' or "components"."severity" = 'nuisance'),
	CONSTRAINT "makes_safe_boolean" CHECK("components"."makes_safe" in (0, 1)),
	CONSTRAINT "causes_json" CHECK("components"."causes" is null or json_valid("components"."causes")),
	CONSTRAINT "access_step_ids_json" CHECK("components"."access_step_ids" is null or json_valid("components"."access_step_ids")),
	CONSTRAINT "not_before_json" CHECK("components"."not_before" is null or json_valid("components"."not_before")),
	CONSTRAINT "name_not_empty" CHECK("components"."name" <> ''),
	CONSTRAINT "caution_not_empty" CHECK("components"."caution" <> ''),
	CONSTRAINT "components_minutes" CHECK("components"."check_minutes" >= 0),
	CONSTRAINT "remedy_part_minor_safe" CHECK(abs("components"."remedy_part_minor") <= 9007199254740991)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `components_name_unique` ON `components` (`name`);--> statement-breakpoint
CREATE TABLE `failure_modes` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`name` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("failure_modes"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `failure_modes_name_unique` ON `failure_modes` (`name`);--> statement-breakpoint
CREATE TABLE `operations` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`hours` real,
	`access_step_ids` text NOT NULL,
	`joints` text NOT NULL,
	`looks` text NOT NULL,
	`final_checks` text NOT NULL,
	`marks` text NOT NULL,
	`tools` text NOT NULL,
	`turns_engine` integer NOT NULL,
	`sound_before_after` integer NOT NULL,
	`warranty_days` integer,
	`warranty_km` real,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "access_step_ids_json" CHECK("operations"."access_step_ids" is null or json_valid("operations"."access_step_ids")),
	CONSTRAINT "joints_json" CHECK("operations"."joints" is null or json_valid("operations"."joints")),
	CONSTRAINT "looks_json" CHECK("operations"."looks" is null or json_valid("operations"."looks")),
	CONSTRAINT "final_checks_json" CHECK("operations"."final_checks" is null or json_valid("operations"."final_checks")),
	CONSTRAINT "marks_json" CHECK("operations"."marks" is null or json_valid("operations"."marks")),
	CONSTRAINT "tools_json" CHECK("operations"."tools" is null or json_valid("operations"."tools")),
	CONSTRAINT "turns_engine_boolean" CHECK("operations"."turns_engine" in (0, 1)),
	CONSTRAINT "sound_before_after_boolean" CHECK("operations"."sound_before_after" in (0, 1)),
	CONSTRAINT "name_not_empty" CHECK("operations"."name" <> ''),
	CONSTRAINT "operations_hours" CHECK("operations"."hours" >= 0),
	CONSTRAINT "operations_warranty" CHECK("operations"."warranty_days" >= 0 and "operations"."warranty_km" >= 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `operations_name_unique` ON `operations` (`name`);--> statement-breakpoint
CREATE TABLE `procedure_revisions` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`procedure_id` text NOT NULL,
	`revision` integer NOT NULL,
	`layout` text NOT NULL,
	`count` integer NOT NULL,
	`rows` integer,
	`positions` text,
	`order` text,
	`order_names` text,
	`stages` text NOT NULL,
	`thread` text,
	`class` text,
	`finish` text,
	`marks` text,
	`reuse` text NOT NULL,
	`severity` text NOT NULL,
	`on_failure` text NOT NULL,
	`source` text NOT NULL,
	`supersedes_id` text,
	`reason` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`procedure_id`) REFERENCES `procedures`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supersedes_id`) REFERENCES `procedure_revisions`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "layout_word" CHECK("procedure_revisions"."layout" = 'circle' or "procedure_revisions"."layout" = 'row' or "procedure_revisions"."layout" = 'rectangle' or "procedure_revisions"."layout" = 'free'),
	CONSTRAINT "order_names_word" CHECK("procedure_revisions"."order_names" = 'positions' or "procedure_revisions"."order_names" = 'labels'),
	CONSTRAINT "reuse_word" CHECK("procedure_revisions"."reuse" = 'never' or "procedure_revisions"."reuse" = 'after_inspection' or "procedure_revisions"."reuse" = 'free'),
	CONSTRAINT "severity_word" CHECK("procedure_revisions"."severity" = 'safety' or "procedure_revisions"."severity" = 'breakdown' or "procedure_revisions"."severity" = 'nuisance'),
	CONSTRAINT "on_failure_word" CHECK("procedure_revisions"."on_failure" = 'restart' or "procedure_revisions"."on_failure" = 'replace' or "procedure_revisions"."on_failure" = 'redo_joint'),
	CONSTRAINT "positions_json" CHECK("procedure_revisions"."positions" is null or json_valid("procedure_revisions"."positions")),
	CONSTRAINT "order_json" CHECK("procedure_revisions"."order" is null or json_valid("procedure_revisions"."order")),
	CONSTRAINT "stages_json" CHECK("procedure_revisions"."stages" is null or json_valid("procedure_revisions"."stages")),
	CONSTRAINT "marks_json" CHECK("procedure_revisions"."marks" is null or json_valid("procedure_revisions"."marks")),
	CONSTRAINT "thread_not_empty" CHECK("procedure_revisions"."thread" <> ''),
	CONSTRAINT "class_not_empty" CHECK("procedure_revisions"."class" <> ''),
	CONSTRAINT "finish_not_empty" CHECK("procedure_revisions"."finish" <> ''),
	CONSTRAINT "source_not_empty" CHECK("procedure_revisions"."source" <> ''),
	CONSTRAINT "reason_not_empty" CHECK("procedure_revisions"."reason" <> ''),
	CONSTRAINT "procedure_revisions_correction" CHECK(("procedure_revisions"."supersedes_id" is null) = ("procedure_revisions"."reason" is null)),
	CONSTRAINT "procedure_revisions_count" CHECK("procedure_revisions"."count" between 1 and 200)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `procedure_revisions_number` ON `procedure_revisions` (`procedure_id`,`revision`);--> statement-breakpoint
CREATE TABLE `procedures` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`name` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("procedures"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `procedures_name_unique` ON `procedures` (`name`);--> statement-breakpoint
CREATE TABLE `symptoms` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`name` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("symptoms"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `symptoms_name_unique` ON `symptoms` (`name`);--> statement-breakpoint
CREATE TABLE `comeback_decisions` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`earlier_job_id` text,
	`earlier_history_event_id` text,
	`later_work_order_id` text NOT NULL,
	`decision` text NOT NULL,
	`why` text NOT NULL,
	`category` text,
	`root_cause` text NOT NULL,
	`borne_by` text,
	`reasons` text NOT NULL,
	`supersedes_id` text,
	`reason` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`earlier_job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`earlier_history_event_id`) REFERENCES `history_events`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`later_work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supersedes_id`) REFERENCES `comeback_decisions`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "decision_word" CHECK("comeback_decisions"."decision" = 'confirmed' or "comeback_decisions"."decision" = 'ruled_out'),
	CONSTRAINT "borne_by_word" CHECK("comeback_decisions"."borne_by" = 'us' or "comeback_decisions"."borne_by" = 'supplier' or "comeback_decisions"."borne_by" = 'customer' or "comeback_decisions"."borne_by" = 'shared'),
	CONSTRAINT "root_cause_json" CHECK("comeback_decisions"."root_cause" is null or json_valid("comeback_decisions"."root_cause")),
	CONSTRAINT "reasons_json" CHECK("comeback_decisions"."reasons" is null or json_valid("comeback_decisions"."reasons")),
	CONSTRAINT "why_not_empty" CHECK("comeback_decisions"."why" <> ''),
	CONSTRAINT "category_not_empty" CHECK("comeback_decisions"."category" <> ''),
	CONSTRAINT "reason_not_empty" CHECK("comeback_decisions"."reason" <> ''),
	CONSTRAINT "comeback_decisions_one_earlier" CHECK(("comeback_decisions"."earlier_job_id" is null) <> ("comeback_decisions"."earlier_history_event_id" is null))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `comeback_decisions_supersedes_id_unique` ON `comeback_decisions` (`supersedes_id`);--> statement-breakpoint
CREATE INDEX `comeback_decisions_later` ON `comeback_decisions` (`later_work_order_id`);--> statement-breakpoint
CREATE INDEX `comeback_decisions_earlier` ON `comeback_decisions` (`earlier_job_id`);--> statement-breakpoint
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
CREATE TABLE `loss_causes` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`opening_id` text NOT NULL,
	`category` text NOT NULL,
	`root_cause` text NOT NULL,
	`supersedes_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`opening_id`) REFERENCES `step_openings`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supersedes_id`) REFERENCES `loss_causes`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "root_cause_json" CHECK("loss_causes"."root_cause" is null or json_valid("loss_causes"."root_cause")),
	CONSTRAINT "category_not_empty" CHECK("loss_causes"."category" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `loss_causes_supersedes_id_unique` ON `loss_causes` (`supersedes_id`);--> statement-breakpoint
CREATE INDEX `loss_causes_opening` ON `loss_causes` (`opening_id`);--> statement-breakpoint
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
CREATE TABLE `doubt_settlements` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`joint_id` text NOT NULL,
	`cause` text NOT NULL,
	`cause_id` text NOT NULL,
	`how` text NOT NULL,
	`note` text,
	`as` text,
	`checked_with_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`checked_with_id`) REFERENCES `wrenches`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "cause_word" CHECK("doubt_settlements"."cause" = 'wrench' or "doubt_settlements"."cause" = 'batch' or "doubt_settlements"."cause" = 'procedure' or "doubt_settlements"."cause" = 'correction'),
	CONSTRAINT "as_word" CHECK("doubt_settlements"."as" = 'technician' or "doubt_settlements"."as" = 'second_person'),
	CONSTRAINT "how_not_empty" CHECK("doubt_settlements"."how" <> ''),
	CONSTRAINT "note_not_empty" CHECK("doubt_settlements"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `doubt_settlements_joint` ON `doubt_settlements` (`joint_id`);--> statement-breakpoint
CREATE TABLE `fastener_inspections` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`joint_id` text NOT NULL,
	`fit` integer NOT NULL,
	`note` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "fit_boolean" CHECK("fastener_inspections"."fit" in (0, 1)),
	CONSTRAINT "note_not_empty" CHECK("fastener_inspections"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `fastener_inspections_joint` ON `fastener_inspections` (`joint_id`);--> statement-breakpoint
CREATE TABLE `joint_leavings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`joint_id` text NOT NULL,
	`reason` text NOT NULL,
	`position` integer,
	`stage` integer,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("joint_leavings"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `joint_leavings_joint` ON `joint_leavings` (`joint_id`);--> statement-breakpoint
CREATE TABLE `joint_resumptions` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`leaving_id` text NOT NULL,
	`how` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`leaving_id`) REFERENCES `joint_leavings`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "how_word" CHECK("joint_resumptions"."how" = 'carry_on' or "joint_resumptions"."how" = 'start_over')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `joint_resumptions_leaving_id_unique` ON `joint_resumptions` (`leaving_id`);--> statement-breakpoint
CREATE TABLE `part_line_settlements` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`batch_fault_id` text NOT NULL,
	`part_line_id` text NOT NULL,
	`how` text NOT NULL,
	`note` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`batch_fault_id`) REFERENCES `batch_faults`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`part_line_id`) REFERENCES `part_lines`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "how_not_empty" CHECK("part_line_settlements"."how" <> ''),
	CONSTRAINT "note_not_empty" CHECK("part_line_settlements"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `part_line_settlements_once` ON `part_line_settlements` (`batch_fault_id`,`part_line_id`);--> statement-breakpoint
CREATE TABLE `sign_offs` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`joint_id` text NOT NULL,
	`as` text NOT NULL,
	`looked_at` text,
	`same_person_after_minutes` integer,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "as_word" CHECK("sign_offs"."as" = 'technician' or "sign_offs"."as" = 'second_person'),
	CONSTRAINT "looked_at_json" CHECK("sign_offs"."looked_at" is null or json_valid("sign_offs"."looked_at"))
) STRICT;
--> statement-breakpoint
CREATE INDEX `sign_offs_joint` ON `sign_offs` (`joint_id`);--> statement-breakpoint
CREATE TABLE `temporary_uses` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`joint_id` text NOT NULL,
	`reason` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("temporary_uses"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `temporary_uses_joint` ON `temporary_uses` (`joint_id`);--> statement-breakpoint
CREATE TABLE `torque_records` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`joint_id` text NOT NULL,
	`position` integer NOT NULL,
	`stage` integer NOT NULL,
	`fastener` integer NOT NULL,
	`value` real,
	`unit` text,
	`value_si` real,
	`basis` text,
	`wrench_id` text,
	`wrench_note` text,
	`gauge_id` text,
	`adapter_id` text,
	`adapter_angle_deg` real,
	`stage_as_set_id` text,
	`made_at` integer NOT NULL,
	`out_of_order_reason` text,
	`event` text,
	`supersedes_id` text,
	`reason` text,
	`withdrawn` integer,
	`lower` real,
	`upper` real,
	`uncertainty` real,
	`verdict` text,
	`conformance_probability` real,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`wrench_id`) REFERENCES `wrenches`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`gauge_id`) REFERENCES `gauges`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`adapter_id`) REFERENCES `adapters`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supersedes_id`) REFERENCES `torque_records`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "unit_word" CHECK("torque_records"."unit" = 'N.m' or "torque_records"."unit" = 'kgf.m' or "torque_records"."unit" = 'lbf.ft' or "torque_records"."unit" = 'lbf.in' or "torque_records"."unit" = 'deg'),
	CONSTRAINT "basis_word" CHECK("torque_records"."basis" = 'set' or "torque_records"."basis" = 'measured'),
	CONSTRAINT "event_word" CHECK("torque_records"."event" = 'slipped' or "torque_records"."event" = 'broke' or "torque_records"."event" = 'angle_not_known' or "torque_records"."event" = 'replaced'),
	CONSTRAINT "verdict_word" CHECK("torque_records"."verdict" = 'conforms' or "torque_records"."verdict" = 'outside' or "torque_records"."verdict" = 'unsure' or "torque_records"."verdict" = 'as_set'),
	CONSTRAINT "out_of_order_reason_not_empty" CHECK("torque_records"."out_of_order_reason" <> ''),
	CONSTRAINT "reason_not_empty" CHECK("torque_records"."reason" <> ''),
	CONSTRAINT "wrench_note_not_empty" CHECK("torque_records"."wrench_note" <> ''),
	CONSTRAINT "torque_records_value_or_event" CHECK(("torque_records"."value" is null) <> ("torque_records"."event" is null)),
	CONSTRAINT "torque_records_position" CHECK("torque_records"."position" >= 1 and "torque_records"."stage" >= 1 and "torque_records"."fastener" >= 1),
	CONSTRAINT "torque_records_correction" CHECK("torque_records"."supersedes_id" is null or "torque_records"."reason" is not null),
	CONSTRAINT "torque_records_withdrawn" CHECK("torque_records"."withdrawn" is null or ("torque_records"."withdrawn" = 1 and "torque_records"."supersedes_id" is not null))
) STRICT;
--> statement-breakpoint
CREATE INDEX `torque_records_joint` ON `torque_records` (`joint_id`);--> statement-breakpoint
CREATE INDEX `torque_records_wrench` ON `torque_records` (`wrench_id`,`made_at`);--> statement-breakpoint
CREATE UNIQUE INDEX `torque_records_supersedes` ON `torque_records` (`supersedes_id`) WHERE "torque_records"."supersedes_id" is not null;--> statement-breakpoint
CREATE INDEX `torque_records_gauge` ON `torque_records` (`gauge_id`,`made_at`) WHERE "torque_records"."gauge_id" is not null;--> statement-breakpoint
CREATE TABLE `advice_tellings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`finding_id` text NOT NULL,
	`talk_id` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `findings`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`talk_id`) REFERENCES `talks`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `advice_tellings_finding` ON `advice_tellings` (`finding_id`);--> statement-breakpoint
CREATE INDEX `advice_tellings_talk` ON `advice_tellings` (`talk_id`);--> statement-breakpoint
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
CREATE TABLE `final_check_results` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`final_check_id` text NOT NULL,
	`fine` integer NOT NULL,
	`finding_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`final_check_id`) REFERENCES `job_final_checks`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `findings`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "fine_boolean" CHECK("final_check_results"."fine" in (0, 1))
) STRICT;
--> statement-breakpoint
CREATE INDEX `final_check_results_check` ON `final_check_results` (`final_check_id`);--> statement-breakpoint
CREATE TABLE `findings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`vehicle_id` text NOT NULL,
	`job_id` text,
	`component_id` text NOT NULL,
	`failure_mode_id` text,
	`severity` text NOT NULL,
	`found_on` text NOT NULL,
	`symptom_id` text,
	`caused_by_job_id` text,
	`caused_by_prior_work_id` text,
	`advice` text,
	`limits` text,
	`note` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`component_id`) REFERENCES `components`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`failure_mode_id`) REFERENCES `failure_modes`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`symptom_id`) REFERENCES `symptoms`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`caused_by_job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`caused_by_prior_work_id`) REFERENCES `prior_works`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "severity_word" CHECK("findings"."severity" = 'safety' or "findings"."severity" = 'breakdown' or "findings"."severity" = 'nuisance'),
	CONSTRAINT "advice_word" CHECK("findings"."advice" = 'not_on_the_road' or "findings"."advice" = 'within_limits' or "findings"."advice" = 'no_concern'),
	CONSTRAINT "found_on_day" CHECK("findings"."found_on" is null or date("findings"."found_on") = "findings"."found_on"),
	CONSTRAINT "limits_not_empty" CHECK("findings"."limits" <> ''),
	CONSTRAINT "note_not_empty" CHECK("findings"."note" <> ''),
	CONSTRAINT "findings_one_cause" CHECK("findings"."caused_by_job_id" is null or "findings"."caused_by_prior_work_id" is null)
) STRICT;
--> statement-breakpoint
CREATE INDEX `findings_vehicle` ON `findings` (`vehicle_id`);--> statement-breakpoint
CREATE INDEX `findings_job` ON `findings` (`job_id`);--> statement-breakpoint
CREATE TABLE `left_for_later` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`vehicle_id` text NOT NULL,
	`finding_id` text,
	`text` text NOT NULL,
	`amount_minor` integer,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `findings`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "text_not_empty" CHECK("left_for_later"."text" <> ''),
	CONSTRAINT "amount_minor_safe" CHECK(abs("left_for_later"."amount_minor") <= 9007199254740991)
) STRICT;
--> statement-breakpoint
CREATE INDEX `left_for_later_vehicle` ON `left_for_later` (`vehicle_id`);--> statement-breakpoint
CREATE TABLE `left_for_later_settlements` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`left_for_later_id` text NOT NULL,
	`job_id` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`left_for_later_id`) REFERENCES `left_for_later`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `left_for_later_settlements_left_for_later_id_unique` ON `left_for_later_settlements` (`left_for_later_id`);--> statement-breakpoint
CREATE TABLE `look_results` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`look_id` text NOT NULL,
	`fine` integer,
	`finding_id` text,
	`skipped_reason` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`look_id`) REFERENCES `job_looks`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`finding_id`) REFERENCES `findings`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "fine_boolean" CHECK("look_results"."fine" in (0, 1)),
	CONSTRAINT "skipped_reason_not_empty" CHECK("look_results"."skipped_reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `look_results_look_id_unique` ON `look_results` (`look_id`);--> statement-breakpoint
CREATE TABLE `prior_works` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`vehicle_id` text NOT NULL,
	`operation_id` text NOT NULL,
	`by` text NOT NULL,
	`on` text,
	`exactness` text NOT NULL,
	`evidence` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`operation_id`) REFERENCES `operations`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "by_word" CHECK("prior_works"."by" = 'us' or "prior_works"."by" = 'other' or "prior_works"."by" = 'owner' or "prior_works"."by" = 'unknown'),
	CONSTRAINT "exactness_word" CHECK("prior_works"."exactness" = 'day' or "prior_works"."exactness" = 'month' or "prior_works"."exactness" = 'year' or "prior_works"."exactness" = 'unknown'),
	CONSTRAINT "on_day" CHECK("prior_works"."on" is null or date("prior_works"."on") = "prior_works"."on"),
	CONSTRAINT "evidence_not_empty" CHECK("prior_works"."evidence" <> ''),
	CONSTRAINT "prior_works_dated" CHECK(("prior_works"."on" is null) = ("prior_works"."exactness" = 'unknown'))
) STRICT;
--> statement-breakpoint
CREATE INDEX `prior_works_vehicle` ON `prior_works` (`vehicle_id`);--> statement-breakpoint
CREATE TABLE `history_events` (
	`id` text PRIMARY KEY NOT NULL,
	`import_id` text NOT NULL,
	`line` integer NOT NULL,
	`row_name` text,
	`vehicle_id` text NOT NULL,
	`date` text,
	`distance_km` real,
	`event` text NOT NULL,
	`by` text,
	`operation_id` text,
	`component_id` text,
	`failure_mode_id` text,
	`symptom_id` text,
	`hours` real,
	`labour_minor` integer,
	`parts_minor` integer,
	`warranty_days` integer,
	`warranty_km` real,
	`first_registered_on` text,
	`comeback_of_id` text,
	`note` text,
	FOREIGN KEY (`import_id`) REFERENCES `history_imports`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`operation_id`) REFERENCES `operations`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`component_id`) REFERENCES `components`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`failure_mode_id`) REFERENCES `failure_modes`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`symptom_id`) REFERENCES `symptoms`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`comeback_of_id`) REFERENCES `history_events`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "event_word" CHECK("history_events"."event" = 'in_service' or "history_events"."event" = 'seen' or "history_events"."event" = 'work' or "history_events"."event" = 'failure'),
	CONSTRAINT "by_word" CHECK("history_events"."by" = 'us' or "history_events"."by" = 'other' or "history_events"."by" = 'owner' or "history_events"."by" = 'unknown'),
	CONSTRAINT "date_day" CHECK("history_events"."date" is null or date("history_events"."date") = "history_events"."date"),
	CONSTRAINT "first_registered_on_day" CHECK("history_events"."first_registered_on" is null or date("history_events"."first_registered_on") = "history_events"."first_registered_on"),
	CONSTRAINT "labour_minor_safe" CHECK(abs("history_events"."labour_minor") <= 9007199254740991),
	CONSTRAINT "parts_minor_safe" CHECK(abs("history_events"."parts_minor") <= 9007199254740991),
	CONSTRAINT "history_events_dated" CHECK("history_events"."date" is not null or "history_events"."event" = 'work'),
	CONSTRAINT "history_events_work" CHECK("history_events"."event" <> 'work' or "history_events"."operation_id" is not null),
	CONSTRAINT "history_events_failure" CHECK("history_events"."event" <> 'failure' or "history_events"."component_id" is not null),
	CONSTRAINT "history_events_distance" CHECK("history_events"."distance_km" >= 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `history_events_vehicle` ON `history_events` (`vehicle_id`,`date`);--> statement-breakpoint
CREATE INDEX `history_events_import` ON `history_events` (`import_id`);--> statement-breakpoint
CREATE INDEX `history_events_symptom` ON `history_events` (`symptom_id`,`component_id`) WHERE "history_events"."symptom_id" is not null;--> statement-breakpoint
CREATE INDEX `history_events_comeback` ON `history_events` (`comeback_of_id`) WHERE "history_events"."comeback_of_id" is not null;--> statement-breakpoint
CREATE TABLE `history_imports` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`file_name` text NOT NULL,
	`sha256` text NOT NULL,
	`row_count` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `history_imports_sha256_unique` ON `history_imports` (`sha256`);--> statement-breakpoint
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
CREATE TABLE `batch_faults` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`part_id` text NOT NULL,
	`batch` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`part_id`) REFERENCES `parts`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "batch_not_empty" CHECK("batch_faults"."batch" <> ''),
	CONSTRAINT "reason_not_empty" CHECK("batch_faults"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `batch_faults_part` ON `batch_faults` (`part_id`,`batch`);--> statement-breakpoint
CREATE TABLE `parts` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`number` text NOT NULL,
	`name` text NOT NULL,
	`single_use` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "single_use_boolean" CHECK("parts"."single_use" in (0, 1)),
	CONSTRAINT "number_not_empty" CHECK("parts"."number" <> ''),
	CONSTRAINT "name_not_empty" CHECK("parts"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `parts_number_unique` ON `parts` (`number`);--> statement-breakpoint
CREATE TABLE `suppliers` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("suppliers"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `suppliers_name_unique` ON `suppliers` (`name`);--> statement-breakpoint
CREATE TABLE `adapters` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`length_mm` real NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("adapters"."name" <> ''),
	CONSTRAINT "adapters_length" CHECK("adapters"."length_mm" > 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `adapters_name_unique` ON `adapters` (`name`);--> statement-breakpoint
CREATE TABLE `calibrations` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`wrench_id` text NOT NULL,
	`made_on` text NOT NULL,
	`certificate` text NOT NULL,
	`found` text NOT NULL,
	`points` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`wrench_id`) REFERENCES `wrenches`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "found_word" CHECK("calibrations"."found" = 'good' or "calibrations"."found" = 'outside'),
	CONSTRAINT "made_on_day" CHECK("calibrations"."made_on" is null or date("calibrations"."made_on") = "calibrations"."made_on"),
	CONSTRAINT "points_json" CHECK("calibrations"."points" is null or json_valid("calibrations"."points")),
	CONSTRAINT "certificate_not_empty" CHECK("calibrations"."certificate" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `calibrations_wrench` ON `calibrations` (`wrench_id`,`made_on`);--> statement-breakpoint
CREATE TABLE `doubted_since` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`calibration_id` text NOT NULL,
	`at` integer NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`calibration_id`) REFERENCES `calibrations`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("doubted_since"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `doubted_since_calibration` ON `doubted_since` (`calibration_id`);--> statement-breakpoint
CREATE TABLE `gauge_checks` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`gauge_id` text NOT NULL,
	`made_on` text NOT NULL,
	`certificate` text NOT NULL,
	`found` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`gauge_id`) REFERENCES `gauges`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "found_word" CHECK("gauge_checks"."found" = 'good' or "gauge_checks"."found" = 'outside'),
	CONSTRAINT "made_on_day" CHECK("gauge_checks"."made_on" is null or date("gauge_checks"."made_on") = "gauge_checks"."made_on"),
	CONSTRAINT "certificate_not_empty" CHECK("gauge_checks"."certificate" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `gauge_checks_gauge` ON `gauge_checks` (`gauge_id`,`made_on`);--> statement-breakpoint
CREATE TABLE `gauges` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`uncertainty_deg` real,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "kind_word" CHECK("gauges"."kind" = 'angle_gauge' or "gauges"."kind" = 'paint_mark'),
	CONSTRAINT "name_not_empty" CHECK("gauges"."name" <> ''),
	CONSTRAINT "gauges_uncertainty" CHECK("gauges"."uncertainty_deg" > 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `gauges_name_unique` ON `gauges` (`name`);--> statement-breakpoint
CREATE TABLE `withdrawals` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`wrench_id` text NOT NULL,
	`at` integer NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`wrench_id`) REFERENCES `wrenches`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("withdrawals"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `withdrawals_wrench` ON `withdrawals` (`wrench_id`,`at`);--> statement-breakpoint
CREATE TABLE `wrenches` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`min_nm` real NOT NULL,
	`max_nm` real NOT NULL,
	`class` text,
	`scale_division_nm` real,
	`length_mm` real,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "kind_word" CHECK("wrenches"."kind" = 'measures' or "wrenches"."kind" = 'clicks'),
	CONSTRAINT "name_not_empty" CHECK("wrenches"."name" <> ''),
	CONSTRAINT "class_not_empty" CHECK("wrenches"."class" <> ''),
	CONSTRAINT "wrenches_range" CHECK("wrenches"."min_nm" >= 0 and "wrenches"."max_nm" > "wrenches"."min_nm"),
	CONSTRAINT "wrenches_division" CHECK("wrenches"."scale_division_nm" > 0),
	CONSTRAINT "wrenches_length" CHECK("wrenches"."length_mm" > 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `wrenches_name_unique` ON `wrenches` (`name`);--> statement-breakpoint
CREATE TABLE `customer_erasures` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`customer_id` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`customer_id`) REFERENCES `customers`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("customer_erasures"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `customer_erasures_customer_id_unique` ON `customer_erasures` (`customer_id`);--> statement-breakpoint
CREATE TABLE `customers` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`name` text NOT NULL,
	`phone` text,
	`email` text,
	`address` text,
	`note` text,
	`salt` text NOT NULL,
	`find_key` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("customers"."name" <> ''),
	CONSTRAINT "phone_not_empty" CHECK("customers"."phone" <> ''),
	CONSTRAINT "email_not_empty" CHECK("customers"."email" <> ''),
	CONSTRAINT "address_not_empty" CHECK("customers"."address" <> ''),
	CONSTRAINT "note_not_empty" CHECK("customers"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `customers_name` ON `customers` (`name`);--> statement-breakpoint
CREATE TABLE `families` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`name` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("families"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `families_name_unique` ON `families` (`name`);--> statement-breakpoint
CREATE TABLE `keepers` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`vehicle_id` text NOT NULL,
	`customer_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`customer_id`) REFERENCES `customers`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `keepers_vehicle` ON `keepers` (`vehicle_id`);--> statement-breakpoint
CREATE INDEX `keepers_customer` ON `keepers` (`customer_id`);--> statement-breakpoint
CREATE TABLE `odometer_readings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`vehicle_id` text NOT NULL,
	`on` text NOT NULL,
	`distance_km` real NOT NULL,
	`display_replaced` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "on_day" CHECK("odometer_readings"."on" is null or date("odometer_readings"."on") = "odometer_readings"."on"),
	CONSTRAINT "display_replaced_boolean" CHECK("odometer_readings"."display_replaced" in (0, 1)),
	CONSTRAINT "odometer_readings_distance" CHECK("odometer_readings"."distance_km" >= 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `odometer_readings_vehicle` ON `odometer_readings` (`vehicle_id`,`on`);--> statement-breakpoint
CREATE TABLE `variants` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`name` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("variants"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `variants_name_unique` ON `variants` (`name`);--> statement-breakpoint
CREATE TABLE `vehicles` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`family_id` text NOT NULL,
	`variant_id` text,
	`plate` text,
	`vin` text,
	`frame_number` text,
	`engine_number` text,
	`odometer_unit` text NOT NULL,
	`first_registered_on` text,
	`imported_as` text,
	`find_key` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`family_id`) REFERENCES `families`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`variant_id`) REFERENCES `variants`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "odometer_unit_word" CHECK("vehicles"."odometer_unit" = 'km' or "vehicles"."odometer_unit" = 'mi'),
	CONSTRAINT "first_registered_on_day" CHECK("vehicles"."first_registered_on" is null or date("vehicles"."first_registered_on") = "vehicles"."first_registered_on"),
	CONSTRAINT "plate_not_empty" CHECK("vehicles"."plate" <> ''),
	CONSTRAINT "vin_not_empty" CHECK("vehicles"."vin" <> ''),
	CONSTRAINT "frame_number_not_empty" CHECK("vehicles"."frame_number" <> ''),
	CONSTRAINT "engine_number_not_empty" CHECK("vehicles"."engine_number" <> ''),
	CONSTRAINT "imported_as_not_empty" CHECK("vehicles"."imported_as" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `vehicles_imported_as_unique` ON `vehicles` (`imported_as`);--> statement-breakpoint
CREATE INDEX `vehicles_family` ON `vehicles` (`family_id`);--> statement-breakpoint
CREATE TABLE `authorisation_withdrawals` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`authorisation_id` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`authorisation_id`) REFERENCES `authorisations`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("authorisation_withdrawals"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `authorisation_withdrawals_authorisation_id_unique` ON `authorisation_withdrawals` (`authorisation_id`);--> statement-breakpoint
CREATE TABLE `authorisations` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`estimate_id` text,
	`amount_minor` integer NOT NULL,
	`includes_tax` integer NOT NULL,
	`said_by` text NOT NULL,
	`how` text NOT NULL,
	`at` integer NOT NULL,
	`salt` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`estimate_id`) REFERENCES `estimates`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "how_word" CHECK("authorisations"."how" = 'in_person' or "authorisations"."how" = 'phone' or "authorisations"."how" = 'message' or "authorisations"."how" = 'signed'),
	CONSTRAINT "includes_tax_boolean" CHECK("authorisations"."includes_tax" in (0, 1)),
	CONSTRAINT "said_by_not_empty" CHECK("authorisations"."said_by" <> ''),
	CONSTRAINT "amount_minor_safe" CHECK(abs("authorisations"."amount_minor") <= 9007199254740991),
	CONSTRAINT "authorisations_amount" CHECK("authorisations"."amount_minor" >= 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `authorisations_order` ON `authorisations` (`work_order_id`);--> statement-breakpoint
CREATE TABLE `estimates` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`version` integer NOT NULL,
	`lines` text NOT NULL,
	`discount_minor` integer,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "lines_json" CHECK("estimates"."lines" is null or json_valid("estimates"."lines")),
	CONSTRAINT "discount_minor_safe" CHECK(abs("estimates"."discount_minor") <= 9007199254740991)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `estimates_version` ON `estimates` (`work_order_id`,`version`);--> statement-breakpoint
CREATE TABLE `talks` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`with` text NOT NULL,
	`how` text NOT NULL,
	`said` text NOT NULL,
	`promised` text,
	`salt` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "with_not_empty" CHECK("talks"."with" <> ''),
	CONSTRAINT "how_not_empty" CHECK("talks"."how" <> ''),
	CONSTRAINT "said_not_empty" CHECK("talks"."said" <> ''),
	CONSTRAINT "promised_not_empty" CHECK("talks"."promised" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `talks_order` ON `talks` (`work_order_id`);--> statement-breakpoint
CREATE TABLE `box_places` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`box_id` text NOT NULL,
	`place` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`box_id`) REFERENCES `part_boxes`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "place_not_empty" CHECK("box_places"."place" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `box_places_box` ON `box_places` (`box_id`);--> statement-breakpoint
CREATE TABLE `part_boxes` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`what` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "what_not_empty" CHECK("part_boxes"."what" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `part_boxes_order` ON `part_boxes` (`work_order_id`);--> statement-breakpoint
CREATE TABLE `clock_starts` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `clock_starts_job` ON `clock_starts` (`job_id`);--> statement-breakpoint
CREATE INDEX `clock_starts_person` ON `clock_starts` (`created_by`);--> statement-breakpoint
CREATE TABLE `clock_stops` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`clock_start_id` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`clock_start_id`) REFERENCES `clock_starts`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `clock_stops_clock_start_id_unique` ON `clock_stops` (`clock_start_id`);--> statement-breakpoint
CREATE TABLE `engine_turns` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`how` text NOT NULL,
	`at` integer NOT NULL,
	`note` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "how_word" CHECK("engine_turns"."how" = 'by_hand' or "engine_turns"."how" = 'started'),
	CONSTRAINT "note_not_empty" CHECK("engine_turns"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `engine_turns_job` ON `engine_turns` (`job_id`);--> statement-breakpoint
CREATE TABLE `mark_records` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`mark_id` text NOT NULL,
	`at` integer NOT NULL,
	`note` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`mark_id`) REFERENCES `job_marks`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "note_not_empty" CHECK("mark_records"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `mark_records_mark` ON `mark_records` (`mark_id`);--> statement-breakpoint
CREATE TABLE `part_line_removals` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`part_line_id` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`part_line_id`) REFERENCES `part_lines`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("part_line_removals"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `part_line_removals_part_line_id_unique` ON `part_line_removals` (`part_line_id`);--> statement-breakpoint
CREATE TABLE `part_lines` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`part_id` text NOT NULL,
	`quantity` real NOT NULL,
	`batch` text,
	`supplier_id` text,
	`condition` text NOT NULL,
	`cost_minor` integer NOT NULL,
	`price_minor` integer NOT NULL,
	`joint_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`part_id`) REFERENCES `parts`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`supplier_id`) REFERENCES `suppliers`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "condition_word" CHECK("part_lines"."condition" = 'new' or "part_lines"."condition" = 'used' or "part_lines"."condition" = 'reconditioned'),
	CONSTRAINT "batch_not_empty" CHECK("part_lines"."batch" <> ''),
	CONSTRAINT "cost_minor_safe" CHECK(abs("part_lines"."cost_minor") <= 9007199254740991),
	CONSTRAINT "price_minor_safe" CHECK(abs("part_lines"."price_minor") <= 9007199254740991),
	CONSTRAINT "part_lines_quantity" CHECK("part_lines"."quantity" > 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `part_lines_job` ON `part_lines` (`job_id`);--> statement-breakpoint
CREATE INDEX `part_lines_part` ON `part_lines` (`part_id`);--> statement-breakpoint
CREATE INDEX `part_lines_joint` ON `part_lines` (`joint_id`) WHERE "part_lines"."joint_id" is not null;--> statement-breakpoint
CREATE TABLE `step_closings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_step_id` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_step_id`) REFERENCES `job_steps`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `step_closings_step` ON `step_closings` (`job_step_id`);--> statement-breakpoint
CREATE TABLE `step_openings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_step_id` text NOT NULL,
	`at` integer NOT NULL,
	`reason` text,
	`borne_by` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_step_id`) REFERENCES `job_steps`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("step_openings"."reason" <> ''),
	CONSTRAINT "borne_by_word" CHECK("step_openings"."borne_by" = 'us' or "step_openings"."borne_by" = 'customer')
) STRICT;
--> statement-breakpoint
CREATE INDEX `step_openings_step` ON `step_openings` (`job_step_id`);--> statement-breakpoint
CREATE TABLE `tool_omissions` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_tool_id` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_tool_id`) REFERENCES `job_tools`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("tool_omissions"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `tool_omissions_job_tool_id_unique` ON `tool_omissions` (`job_tool_id`);--> statement-breakpoint
CREATE TABLE `tool_removals` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`tool_in_id` text NOT NULL,
	`count` integer,
	`not_inside` text,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`tool_in_id`) REFERENCES `tools_in`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "tool_removals_count" CHECK("tool_removals"."count" >= 0),
	CONSTRAINT "not_inside_not_empty" CHECK("tool_removals"."not_inside" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `tool_removals_tool_in_id_unique` ON `tool_removals` (`tool_in_id`);--> statement-breakpoint
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
CREATE TABLE `tools_in` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`tool` text NOT NULL,
	`count` integer NOT NULL,
	`for_step_id` text,
	`before_step_id` text,
	`job_tool_id` text,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`for_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`before_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_tool_id`) REFERENCES `job_tools`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "tool_not_empty" CHECK("tools_in"."tool" <> ''),
	CONSTRAINT "tools_in_count" CHECK("tools_in"."count" >= 1)
) STRICT;
--> statement-breakpoint
CREATE INDEX `tools_in_job` ON `tools_in` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_completions` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`at` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `job_completions_job_id_unique` ON `job_completions` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_final_checks` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`text` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "text_not_empty" CHECK("job_final_checks"."text" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `job_final_checks_job` ON `job_final_checks` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_joints` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`name` text NOT NULL,
	`procedure_revision_id` text NOT NULL,
	`behind_step_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`procedure_revision_id`) REFERENCES `procedure_revisions`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`behind_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "name_not_empty" CHECK("job_joints"."name" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `job_joints_job` ON `job_joints` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_looks` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`component_id` text NOT NULL,
	`severity` text NOT NULL,
	`behind_step_id` text,
	`minutes` real NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`component_id`) REFERENCES `components`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`behind_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "severity_word" CHECK("job_looks"."severity" = 'safety' or "job_looks"."severity" = 'breakdown' or "job_looks"."severity" = 'nuisance'),
	CONSTRAINT "job_looks_minutes" CHECK("job_looks"."minutes" >= 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `job_looks_job` ON `job_looks` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_marks` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`text` text NOT NULL,
	`behind_step_id` text,
	`before_step_id` text,
	`joint_id` text,
	`photo` integer,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`behind_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`before_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`joint_id`) REFERENCES `job_joints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "text_not_empty" CHECK("job_marks"."text" <> ''),
	CONSTRAINT "photo_boolean" CHECK("job_marks"."photo" in (0, 1))
) STRICT;
--> statement-breakpoint
CREATE INDEX `job_marks_job` ON `job_marks` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_steps` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`access_step_id` text NOT NULL,
	`name` text NOT NULL,
	`hours` real NOT NULL,
	`needs` text NOT NULL,
	`exposes` text NOT NULL,
	`disturbs` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`access_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "needs_json" CHECK("job_steps"."needs" is null or json_valid("job_steps"."needs")),
	CONSTRAINT "exposes_json" CHECK("job_steps"."exposes" is null or json_valid("job_steps"."exposes")),
	CONSTRAINT "disturbs_json" CHECK("job_steps"."disturbs" is null or json_valid("job_steps"."disturbs"))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `job_steps_once` ON `job_steps` (`job_id`,`access_step_id`);--> statement-breakpoint
CREATE TABLE `job_tools` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`tool` text NOT NULL,
	`count` integer NOT NULL,
	`for_step_id` text,
	`before_step_id` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`for_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`before_step_id`) REFERENCES `access_steps`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "tool_not_empty" CHECK("job_tools"."tool" <> ''),
	CONSTRAINT "job_tools_count" CHECK("job_tools"."count" >= 1)
) STRICT;
--> statement-breakpoint
CREATE INDEX `job_tools_job` ON `job_tools` (`job_id`);--> statement-breakpoint
CREATE TABLE `job_voidings` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`job_id` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`job_id`) REFERENCES `jobs`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "reason_not_empty" CHECK("job_voidings"."reason" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `job_voidings_job_id_unique` ON `job_voidings` (`job_id`);--> statement-breakpoint
CREATE TABLE `jobs` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`letter` text NOT NULL,
	`operation_id` text,
	`task` text NOT NULL,
	`hours` real NOT NULL,
	`warranty_days` integer,
	`warranty_km` real,
	`settles_finding_id` text,
	`turns_engine` integer NOT NULL,
	`sound_before_after` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`operation_id`) REFERENCES `operations`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "task_not_empty" CHECK("jobs"."task" <> ''),
	CONSTRAINT "letter_not_empty" CHECK("jobs"."letter" <> ''),
	CONSTRAINT "jobs_hours" CHECK("jobs"."hours" >= 0),
	CONSTRAINT "turns_engine_boolean" CHECK("jobs"."turns_engine" in (0, 1)),
	CONSTRAINT "sound_before_after_boolean" CHECK("jobs"."sound_before_after" in (0, 1))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `jobs_letter` ON `jobs` (`work_order_id`,`letter`);--> statement-breakpoint
CREATE INDEX `jobs_operation` ON `jobs` (`operation_id`);--> statement-breakpoint
CREATE INDEX `jobs_settles` ON `jobs` (`settles_finding_id`);--> statement-breakpoint
CREATE TABLE `hand_backs` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`at` integer NOT NULL,
	`on` text NOT NULL,
	`odometer_km` real,
	`borne_minor` integer,
	`borne_reason` text,
	`invoice_number` text NOT NULL,
	`lines` text NOT NULL,
	`discount_minor` integer NOT NULL,
	`net_minor` integer NOT NULL,
	`tax` text NOT NULL,
	`gross_minor` integer NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "on_day" CHECK("hand_backs"."on" is null or date("hand_backs"."on") = "hand_backs"."on"),
	CONSTRAINT "lines_json" CHECK("hand_backs"."lines" is null or json_valid("hand_backs"."lines")),
	CONSTRAINT "tax_json" CHECK("hand_backs"."tax" is null or json_valid("hand_backs"."tax")),
	CONSTRAINT "borne_reason_not_empty" CHECK("hand_backs"."borne_reason" <> ''),
	CONSTRAINT "borne_minor_safe" CHECK(abs("hand_backs"."borne_minor") <= 9007199254740991),
	CONSTRAINT "discount_minor_safe" CHECK(abs("hand_backs"."discount_minor") <= 9007199254740991),
	CONSTRAINT "net_minor_safe" CHECK(abs("hand_backs"."net_minor") <= 9007199254740991),
	CONSTRAINT "gross_minor_safe" CHECK(abs("hand_backs"."gross_minor") <= 9007199254740991)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `hand_backs_work_order_id_unique` ON `hand_backs` (`work_order_id`);--> statement-breakpoint
CREATE UNIQUE INDEX `hand_backs_invoice_number_unique` ON `hand_backs` (`invoice_number`);--> statement-breakpoint
CREATE INDEX `hand_backs_on` ON `hand_backs` (`on`);--> statement-breakpoint
CREATE TABLE `work_orders` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`updated_at` integer NOT NULL,
	`version` integer NOT NULL,
	`number` text NOT NULL,
	`vehicle_id` text NOT NULL,
	`customer_id` text NOT NULL,
	`complaint` text NOT NULL,
	`symptom_ids` text NOT NULL,
	`odometer_km` real,
	`arrived` text NOT NULL,
	`arrival_note` text,
	`promised_on` text,
	`place` text,
	`damage` text,
	`fuel` text,
	`belongings` text,
	`keys` text,
	`old_parts` text,
	`odometer_unread` text,
	`salt` text NOT NULL,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`vehicle_id`) REFERENCES `vehicles`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`customer_id`) REFERENCES `customers`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "arrived_word" CHECK("work_orders"."arrived" = 'runs' or "work_orders"."arrived" = 'does_not_run' or "work_orders"."arrived" = 'towed'),
	CONSTRAINT "promised_on_day" CHECK("work_orders"."promised_on" is null or date("work_orders"."promised_on") = "work_orders"."promised_on"),
	CONSTRAINT "symptom_ids_json" CHECK("work_orders"."symptom_ids" is null or json_valid("work_orders"."symptom_ids")),
	CONSTRAINT "old_parts_word" CHECK("work_orders"."old_parts" = 'give_back' or "work_orders"."old_parts" = 'throw_away'),
	CONSTRAINT "complaint_not_empty" CHECK("work_orders"."complaint" <> ''),
	CONSTRAINT "arrival_note_not_empty" CHECK("work_orders"."arrival_note" <> ''),
	CONSTRAINT "place_not_empty" CHECK("work_orders"."place" <> ''),
	CONSTRAINT "damage_not_empty" CHECK("work_orders"."damage" <> ''),
	CONSTRAINT "fuel_not_empty" CHECK("work_orders"."fuel" <> ''),
	CONSTRAINT "belongings_not_empty" CHECK("work_orders"."belongings" <> ''),
	CONSTRAINT "keys_not_empty" CHECK("work_orders"."keys" <> ''),
	CONSTRAINT "odometer_unread_not_empty" CHECK("work_orders"."odometer_unread" <> ''),
	CONSTRAINT "work_orders_odometer" CHECK("work_orders"."odometer_km" >= 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `work_orders_number_unique` ON `work_orders` (`number`);--> statement-breakpoint
CREATE INDEX `work_orders_vehicle` ON `work_orders` (`vehicle_id`);--> statement-breakpoint
CREATE INDEX `work_orders_customer` ON `work_orders` (`customer_id`);--> statement-breakpoint
CREATE TABLE `moved_promises` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`was_on` text,
	`now_on` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "was_on_day" CHECK("moved_promises"."was_on" is null or date("moved_promises"."was_on") = "moved_promises"."was_on"),
	CONSTRAINT "now_on_day" CHECK("moved_promises"."now_on" is null or date("moved_promises"."now_on") = "moved_promises"."now_on")
) STRICT;
--> statement-breakpoint
CREATE INDEX `moved_promises_order` ON `moved_promises` (`work_order_id`);--> statement-breakpoint
CREATE TABLE `wait_ends` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`wait_id` text NOT NULL,
	`note` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`wait_id`) REFERENCES `waits`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "note_not_empty" CHECK("wait_ends"."note" <> '')
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `wait_ends_wait_id_unique` ON `wait_ends` (`wait_id`);--> statement-breakpoint
CREATE TABLE `waits` (
	`id` text PRIMARY KEY NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text,
	`work_order_id` text NOT NULL,
	`what` text NOT NULL,
	`from_whom` text,
	`expected_on` text,
	FOREIGN KEY (`created_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`work_order_id`) REFERENCES `work_orders`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "expected_on_day" CHECK("waits"."expected_on" is null or date("waits"."expected_on") = "waits"."expected_on"),
	CONSTRAINT "what_not_empty" CHECK("waits"."what" <> ''),
	CONSTRAINT "from_whom_not_empty" CHECK("waits"."from_whom" <> '')
) STRICT;
--> statement-breakpoint
CREATE INDEX `waits_order` ON `waits` (`work_order_id`);--> statement-breakpoint
CREATE TABLE `counters` (
	`id` text PRIMARY KEY NOT NULL,
	`last_number` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `event_rows` (
	`event_seq` integer NOT NULL,
	`table_name` text NOT NULL,
	`row_id` text NOT NULL,
	`row_sha256` text NOT NULL,
	PRIMARY KEY(`table_name`, `row_id`, `event_seq`),
	FOREIGN KEY (`event_seq`) REFERENCES `events`(`seq`) ON UPDATE no action ON DELETE no action
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
CREATE TABLE `events` (
	`seq` integer PRIMARY KEY NOT NULL,
	`at` integer NOT NULL,
	`actor_id` text,
	`action` text NOT NULL,
	`subject_table` text NOT NULL,
	`subject_id` text NOT NULL,
	`detail` text,
	`previous_hash` text NOT NULL,
	`hash` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `stored_answers` (
	`id` integer PRIMARY KEY NOT NULL,
	`person_id` text NOT NULL,
	`key` text NOT NULL,
	`request_sha256` text NOT NULL,
	`status` integer NOT NULL,
	`location` text,
	`etag` text,
	`body` text,
	`created_at` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `stored_answers_key` ON `stored_answers` (`person_id`,`key`);--> statement-breakpoint
CREATE VIEW `standing_part_lines` AS select "id", "created_at", "created_by", "job_id", "part_id", "quantity", "batch", "supplier_id", "condition", "cost_minor", "price_minor", "joint_id" from "part_lines" where not exists (select 1 from part_line_removals off where off.part_line_id = part_lines.id);--> statement-breakpoint
CREATE TRIGGER access_steps_never_deleted BEFORE DELETE ON access_steps BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER adapters_never_deleted BEFORE DELETE ON adapters BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER attachments_never_deleted BEFORE DELETE ON attachments BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER attachments_never_changed BEFORE UPDATE ON attachments BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER authorisation_withdrawals_never_deleted BEFORE DELETE ON authorisation_withdrawals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER authorisation_withdrawals_never_changed BEFORE UPDATE ON authorisation_withdrawals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER authorisations_never_deleted BEFORE DELETE ON authorisations BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER batch_faults_never_deleted BEFORE DELETE ON batch_faults BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER batch_faults_never_changed BEFORE UPDATE ON batch_faults BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER box_places_never_deleted BEFORE DELETE ON box_places BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER box_places_never_changed BEFORE UPDATE ON box_places BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER loss_causes_never_deleted BEFORE DELETE ON loss_causes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER loss_causes_never_changed BEFORE UPDATE ON loss_causes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER moved_promises_never_deleted BEFORE DELETE ON moved_promises BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER moved_promises_never_changed BEFORE UPDATE ON moved_promises BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_boxes_never_deleted BEFORE DELETE ON part_boxes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_boxes_never_changed BEFORE UPDATE ON part_boxes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER calibrations_never_deleted BEFORE DELETE ON calibrations BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER calibrations_never_changed BEFORE UPDATE ON calibrations BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER clock_starts_never_deleted BEFORE DELETE ON clock_starts BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER clock_starts_never_changed BEFORE UPDATE ON clock_starts BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER clock_stops_never_deleted BEFORE DELETE ON clock_stops BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER clock_stops_never_changed BEFORE UPDATE ON clock_stops BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER comeback_decisions_never_deleted BEFORE DELETE ON comeback_decisions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER comeback_decisions_never_changed BEFORE UPDATE ON comeback_decisions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER components_never_deleted BEFORE DELETE ON components BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER counters_never_deleted BEFORE DELETE ON counters BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER customer_erasures_never_deleted BEFORE DELETE ON customer_erasures BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER customer_erasures_never_changed BEFORE UPDATE ON customer_erasures BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER customers_never_deleted BEFORE DELETE ON customers BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER doubt_settlements_never_deleted BEFORE DELETE ON doubt_settlements BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER doubt_settlements_never_changed BEFORE UPDATE ON doubt_settlements BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER doubted_since_never_deleted BEFORE DELETE ON doubted_since BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER doubted_since_never_changed BEFORE UPDATE ON doubted_since BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER engine_turns_never_deleted BEFORE DELETE ON engine_turns BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER engine_turns_never_changed BEFORE UPDATE ON engine_turns BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER estimates_never_deleted BEFORE DELETE ON estimates BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER estimates_never_changed BEFORE UPDATE ON estimates BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER event_rows_never_deleted BEFORE DELETE ON event_rows BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER event_rows_never_changed BEFORE UPDATE ON event_rows BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER events_never_deleted BEFORE DELETE ON events BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER events_never_changed BEFORE UPDATE ON events BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER failure_modes_never_deleted BEFORE DELETE ON failure_modes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER failure_modes_never_changed BEFORE UPDATE ON failure_modes BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER families_never_deleted BEFORE DELETE ON families BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER families_never_changed BEFORE UPDATE ON families BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER fastener_inspections_never_deleted BEFORE DELETE ON fastener_inspections BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER fastener_inspections_never_changed BEFORE UPDATE ON fastener_inspections BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER final_check_results_never_deleted BEFORE DELETE ON final_check_results BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER final_check_results_never_changed BEFORE UPDATE ON final_check_results BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER advice_tellings_never_deleted BEFORE DELETE ON advice_tellings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER advice_tellings_never_changed BEFORE UPDATE ON advice_tellings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER findings_never_deleted BEFORE DELETE ON findings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER findings_never_changed BEFORE UPDATE ON findings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER gauge_checks_never_deleted BEFORE DELETE ON gauge_checks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER gauge_checks_never_changed BEFORE UPDATE ON gauge_checks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER gauges_never_deleted BEFORE DELETE ON gauges BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER hand_backs_never_deleted BEFORE DELETE ON hand_backs BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER hand_backs_never_changed BEFORE UPDATE ON hand_backs BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER history_events_never_deleted BEFORE DELETE ON history_events BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER history_events_never_changed BEFORE UPDATE ON history_events BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER history_imports_never_deleted BEFORE DELETE ON history_imports BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER history_imports_never_changed BEFORE UPDATE ON history_imports BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_completions_never_deleted BEFORE DELETE ON job_completions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_completions_never_changed BEFORE UPDATE ON job_completions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_final_checks_never_deleted BEFORE DELETE ON job_final_checks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_final_checks_never_changed BEFORE UPDATE ON job_final_checks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_joints_never_deleted BEFORE DELETE ON job_joints BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_joints_never_changed BEFORE UPDATE ON job_joints BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_looks_never_deleted BEFORE DELETE ON job_looks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_looks_never_changed BEFORE UPDATE ON job_looks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_marks_never_deleted BEFORE DELETE ON job_marks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_marks_never_changed BEFORE UPDATE ON job_marks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_steps_never_deleted BEFORE DELETE ON job_steps BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_steps_never_changed BEFORE UPDATE ON job_steps BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_tools_never_deleted BEFORE DELETE ON job_tools BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_tools_never_changed BEFORE UPDATE ON job_tools BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_voidings_never_deleted BEFORE DELETE ON job_voidings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER job_voidings_never_changed BEFORE UPDATE ON job_voidings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER jobs_never_deleted BEFORE DELETE ON jobs BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER jobs_never_changed BEFORE UPDATE ON jobs BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER joint_leavings_never_deleted BEFORE DELETE ON joint_leavings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER joint_leavings_never_changed BEFORE UPDATE ON joint_leavings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER joint_resumptions_never_deleted BEFORE DELETE ON joint_resumptions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER joint_resumptions_never_changed BEFORE UPDATE ON joint_resumptions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER keepers_never_deleted BEFORE DELETE ON keepers BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER keepers_never_changed BEFORE UPDATE ON keepers BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER left_for_later_never_deleted BEFORE DELETE ON left_for_later BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER left_for_later_never_changed BEFORE UPDATE ON left_for_later BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER left_for_later_settlements_never_deleted BEFORE DELETE ON left_for_later_settlements BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER left_for_later_settlements_never_changed BEFORE UPDATE ON left_for_later_settlements BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER look_results_never_deleted BEFORE DELETE ON look_results BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER look_results_never_changed BEFORE UPDATE ON look_results BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER mark_records_never_deleted BEFORE DELETE ON mark_records BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER mark_records_never_changed BEFORE UPDATE ON mark_records BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER odometer_readings_never_deleted BEFORE DELETE ON odometer_readings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER odometer_readings_never_changed BEFORE UPDATE ON odometer_readings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER operations_never_deleted BEFORE DELETE ON operations BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_line_removals_never_deleted BEFORE DELETE ON part_line_removals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_line_removals_never_changed BEFORE UPDATE ON part_line_removals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_line_settlements_never_deleted BEFORE DELETE ON part_line_settlements BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_line_settlements_never_changed BEFORE UPDATE ON part_line_settlements BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_lines_never_deleted BEFORE DELETE ON part_lines BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER part_lines_never_changed BEFORE UPDATE ON part_lines BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER parts_never_deleted BEFORE DELETE ON parts BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER passwords_never_deleted BEFORE DELETE ON passwords BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER people_never_deleted BEFORE DELETE ON people BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER people_never_changed BEFORE UPDATE ON people BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER prior_works_never_deleted BEFORE DELETE ON prior_works BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER prior_works_never_changed BEFORE UPDATE ON prior_works BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER procedure_revisions_never_deleted BEFORE DELETE ON procedure_revisions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER procedure_revisions_never_changed BEFORE UPDATE ON procedure_revisions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER procedures_never_deleted BEFORE DELETE ON procedures BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER procedures_never_changed BEFORE UPDATE ON procedures BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER settings_never_deleted BEFORE DELETE ON settings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER sign_offs_never_deleted BEFORE DELETE ON sign_offs BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER sign_offs_never_changed BEFORE UPDATE ON sign_offs BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER step_closings_never_deleted BEFORE DELETE ON step_closings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER step_closings_never_changed BEFORE UPDATE ON step_closings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER step_openings_never_deleted BEFORE DELETE ON step_openings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER step_openings_never_changed BEFORE UPDATE ON step_openings BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER suppliers_never_deleted BEFORE DELETE ON suppliers BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER symptoms_never_deleted BEFORE DELETE ON symptoms BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER symptoms_never_changed BEFORE UPDATE ON symptoms BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER talks_never_deleted BEFORE DELETE ON talks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER temporary_uses_never_deleted BEFORE DELETE ON temporary_uses BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER temporary_uses_never_changed BEFORE UPDATE ON temporary_uses BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_omissions_never_deleted BEFORE DELETE ON tool_omissions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_omissions_never_changed BEFORE UPDATE ON tool_omissions BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_removals_never_deleted BEFORE DELETE ON tool_removals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_removals_never_changed BEFORE UPDATE ON tool_removals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tools_in_never_deleted BEFORE DELETE ON tools_in BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tools_in_never_changed BEFORE UPDATE ON tools_in BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER torque_records_never_deleted BEFORE DELETE ON torque_records BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER torque_records_never_changed BEFORE UPDATE ON torque_records BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER variants_never_deleted BEFORE DELETE ON variants BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER variants_never_changed BEFORE UPDATE ON variants BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER vehicles_never_deleted BEFORE DELETE ON vehicles BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER wait_ends_never_deleted BEFORE DELETE ON wait_ends BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER wait_ends_never_changed BEFORE UPDATE ON wait_ends BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER waits_never_deleted BEFORE DELETE ON waits BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER waits_never_changed BEFORE UPDATE ON waits BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER withdrawals_never_deleted BEFORE DELETE ON withdrawals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER withdrawals_never_changed BEFORE UPDATE ON withdrawals BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER work_orders_never_deleted BEFORE DELETE ON work_orders BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER wrenches_never_deleted BEFORE DELETE ON wrenches BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER talks_never_changed BEFORE UPDATE OF id, created_at, created_by, work_order_id, how ON talks BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER authorisations_never_changed BEFORE UPDATE OF id, created_at, created_by, work_order_id, estimate_id, amount_minor, includes_tax, how, at ON authorisations BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_shortfalls_never_deleted BEFORE DELETE ON tool_shortfalls BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER tool_shortfalls_never_changed BEFORE UPDATE ON tool_shortfalls BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER checks_made_never_deleted BEFORE DELETE ON checks_made BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
CREATE TRIGGER checks_made_never_changed BEFORE UPDATE ON checks_made BEGIN SELECT RAISE(ABORT, 'problem:record-never-changes'); END;
--> statement-breakpoint
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
--> statement-breakpoint
-- The one stream of a vehicle's life: imported rows, and what the program recorded itself, in the history format.
-- known_at is the instant a fact was recorded; for imported history its own day (NULL: the vehicle's first day).
CREATE VIEW life_events AS
SELECT h.id AS id, h.vehicle_id AS vehicle_id, h.date AS date, h.distance_km AS distance_km, h.event AS event, h.by AS by,
  h.operation_id AS operation_id, h.component_id AS component_id, h.failure_mode_id AS failure_mode_id, h.symptom_id AS symptom_id,
  h.hours AS hours, h.labour_minor AS labour_minor, h.parts_minor AS parts_minor, h.warranty_days AS warranty_days, h.warranty_km AS warranty_km,
  h.first_registered_on AS first_registered_on, h.comeback_of_id AS comeback_of_id, h.note AS note,
  'history_events' AS source, NULL AS known_at, 0 AS display_replaced, h.line AS ordinal
FROM history_events h
UNION ALL
SELECT r.id, r.vehicle_id, r."on", r.distance_km, 'seen', NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL,
  'odometer_readings', r.created_at, r.display_replaced, 0
FROM odometer_readings r
UNION ALL
SELECT p.id, p.vehicle_id, p."on", NULL, 'work', p.by, p.operation_id, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, p.evidence,
  'prior_works', p.created_at, 0, 0
FROM prior_works p
UNION ALL
SELECT j.id, w.vehicle_id, b."on", coalesce(b.odometer_km, w.odometer_km), 'work', 'us', j.operation_id, NULL, NULL, NULL, j.hours,
  CAST(round(j.hours * coalesce((SELECT cost_rate_minor FROM settings), 4000)) AS INTEGER),
  (SELECT CAST(round(sum(l.quantity * l.cost_minor)) AS INTEGER) FROM standing_part_lines l WHERE l.job_id = j.id),
  j.warranty_days, j.warranty_km, NULL, NULL, NULL, 'jobs', b.created_at, 0, 0
FROM jobs j JOIN work_orders w ON w.id = j.work_order_id JOIN hand_backs b ON b.work_order_id = w.id
WHERE j.operation_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM job_voidings v WHERE v.job_id = j.id)
UNION ALL
SELECT f.id, f.vehicle_id, f.found_on, NULL, 'failure', NULL, NULL, f.component_id, f.failure_mode_id, f.symptom_id, NULL,
  (SELECT CAST(round(sum(j.hours) * coalesce((SELECT cost_rate_minor FROM settings), 4000)) AS INTEGER) FROM jobs j
    WHERE j.settles_finding_id = f.id AND NOT EXISTS (SELECT 1 FROM job_voidings v WHERE v.job_id = j.id)),
  (SELECT CAST(round(sum(l.quantity * l.cost_minor)) AS INTEGER) FROM standing_part_lines l JOIN jobs j ON j.id = l.job_id
    WHERE j.settles_finding_id = f.id AND NOT EXISTS (SELECT 1 FROM job_voidings v WHERE v.job_id = j.id)),
  NULL, NULL, NULL, NULL, f.note, 'findings', f.created_at, 0, 0
FROM findings f;
--> statement-breakpoint
CREATE INDEX vehicles_plate ON vehicles (upper(replace(replace(plate, ' ', ''), '-', '')));
--> statement-breakpoint
CREATE INDEX vehicles_vin ON vehicles (upper(replace(replace(vin, ' ', ''), '-', '')));
--> statement-breakpoint
CREATE INDEX vehicles_frame ON vehicles (upper(replace(replace(frame_number, ' ', ''), '-', '')));
