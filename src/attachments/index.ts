/** Photos, sounds and short clips. */
export type { Attachment, AttachmentSubject } from './contract.ts'
export {
  addAttachment,
  attachmentsOf,
  attachmentsOfVehicle,
  type KeptFile,
  keepSentFile,
  type ShownAttachment,
} from './service/attachments.ts'
export { attachmentsOnJobs, type ThingShown } from './service/of-jobs.ts'
