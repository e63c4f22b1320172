ALTER TABLE `torque_records` ADD COLUMN `withdrawn` integer CONSTRAINT "torque_records_withdrawn" CHECK(`withdrawn` is null or (`withdrawn` = 1 and `supersedes_id` is not null));
