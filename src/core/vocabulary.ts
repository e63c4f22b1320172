/** Lists that the wire (zod enums), the tables (SQL CHECKs) and the rules must agree on. The words are those of the trade. */

export const ROLES = ['desk', 'technician', 'owner'] as const
export type Role = (typeof ROLES)[number]

/** VDI/VDE 2862: what happens when the thing fails. */
export const SEVERITIES = ['safety', 'breakdown', 'nuisance'] as const
export type Severity = (typeof SEVERITIES)[number]

/** For sorting: safety first. */
export function severityRank(severity: Severity): number {
  return SEVERITIES.indexOf(severity)
}

/** Who did a piece of work; `by` everywhere. */
export const DOERS = ['us', 'other', 'owner', 'unknown'] as const
export type Doer = (typeof DOERS)[number]

/** How exactly a day is known: a month stands on its 15th, a year on 1 July, unknown has no day. */
export const EXACTNESS = ['day', 'month', 'year', 'unknown'] as const
export type Exactness = (typeof EXACTNESS)[number]

export const ODOMETER_UNITS = ['km', 'mi'] as const
export type OdometerUnit = (typeof ODOMETER_UNITS)[number]

export const ARRIVALS = ['runs', 'does_not_run', 'towed'] as const

export const WORK_ORDER_STATES = ['taken_in', 'agreed', 'in_work', 'ready', 'handed_back'] as const
export type WorkOrderState = (typeof WORK_ORDER_STATES)[number]

export const LAYOUTS = ['circle', 'row', 'rectangle', 'free'] as const
export type Layout = (typeof LAYOUTS)[number]

/** Whether the numbers of a maker's order list name positions, or the order printed at each position. */
export const ORDER_NAMES = ['positions', 'labels'] as const
export type OrderNames = (typeof ORDER_NAMES)[number]

export const STAGE_KINDS = ['torque', 'angle', 'loosen', 'check'] as const
export type StageKind = (typeof STAGE_KINDS)[number]

export const REUSE = ['never', 'after_inspection', 'free'] as const
export type Reuse = (typeof REUSE)[number]

/** What the procedure says happens to a failed, slipped or disturbed fastener. */
export const ON_FAILURE = ['restart', 'replace', 'redo_joint'] as const
export type OnFailure = (typeof ON_FAILURE)[number]

export const WRENCH_KINDS = ['measures', 'clicks'] as const
export type WrenchKind = (typeof WRENCH_KINDS)[number]

export const CALIBRATION_RESULTS = ['good', 'outside'] as const
export type CalibrationResult = (typeof CALIBRATION_RESULTS)[number]

/** `set`: what the wrench was set to. `measured`: what it showed. Never mixed. */
export const BASES = ['set', 'measured'] as const
export type Basis = (typeof BASES)[number]

export const TORQUE_UNITS = ['N.m', 'kgf.m', 'lbf.ft', 'lbf.in'] as const
export type TorqueUnit = (typeof TORQUE_UNITS)[number]

export const TIGHTENING_UNITS = [...TORQUE_UNITS, 'deg'] as const
export type TighteningUnit = (typeof TIGHTENING_UNITS)[number]

export const FASTENER_EVENTS = ['slipped', 'broke', 'angle_not_known', 'replaced'] as const
export type FastenerEvent = (typeof FASTENER_EVENTS)[number]

export const VERDICTS = ['conforms', 'outside', 'unsure', 'as_set'] as const
export type Verdict = (typeof VERDICTS)[number]

export const SIGNING_AS = ['technician', 'second_person'] as const

/** What a second person looks at on a joint; nothing is turned. */
export const SECOND_LOOKS = ['marks', 'count', 'stripe'] as const
export type SecondLook = (typeof SECOND_LOOKS)[number]

/** How a joint that somebody left half way is taken up again. */
export const RESUMPTIONS = ['carry_on', 'start_over'] as const
export type Resumption = (typeof RESUMPTIONS)[number]

/** An engine is first turned by hand; only then may it be started. */
export const ENGINE_TURNS = ['by_hand', 'started'] as const
export type EngineTurn = (typeof ENGINE_TURNS)[number]

/** What puts a joint in doubt. */
export const DOUBT_CAUSES = ['wrench', 'batch', 'procedure', 'correction'] as const
export type DoubtCause = (typeof DOUBT_CAUSES)[number]

/** What an angle is read from: a gauge on the wrench, or a paint mark. */
export const GAUGE_KINDS = ['angle_gauge', 'paint_mark'] as const
export type GaugeKind = (typeof GAUGE_KINDS)[number]

export const ATTACHMENT_KINDS = ['photo', 'sound', 'clip'] as const
export type AttachmentKind = (typeof ATTACHMENT_KINDS)[number]

/** The forms in which attachments are kept. */
export const MEDIA_TYPES = [
  'image/jpeg',
  'audio/mpeg',
  'audio/mp4',
  'audio/ogg',
  'audio/wav',
  'audio/webm',
  'video/mp4',
  'video/webm',
  'video/quicktime',
] as const
export type MediaType = (typeof MEDIA_TYPES)[number]

/** Two of a kind, one taken before the work and one after, are shown side by side. */
export const ATTACHMENT_MOMENTS = ['before', 'after'] as const
export type AttachmentMoment = (typeof ATTACHMENT_MOMENTS)[number]

export const PART_CONDITIONS = ['new', 'used', 'reconditioned'] as const
export type PartCondition = (typeof PART_CONDITIONS)[number]

export const LINE_KINDS = ['labour', 'part', 'other'] as const
export type LineKind = (typeof LINE_KINDS)[number]

/** How a yes to an amount was given. */
export const YES_HOW = ['in_person', 'phone', 'message', 'signed'] as const
export type YesHow = (typeof YES_HOW)[number]
export const YES_WORDS: Record<YesHow, string> = {
  in_person: 'at the desk',
  phone: 'by telephone',
  message: 'by message',
  signed: 'signed',
}

export const ADVICES = ['not_on_the_road', 'within_limits', 'no_concern'] as const
export type Advice = (typeof ADVICES)[number]

export const COMEBACK_DECISIONS = ['confirmed', 'ruled_out'] as const
export type ComebackVerdict = (typeof COMEBACK_DECISIONS)[number]

export const SUSPICION_REASONS = [
  'same_symptom',
  'same_component',
  'disturbed',
  'known_pair',
  'open_nonconformity',
] as const
export type SuspicionReason = (typeof SUSPICION_REASONS)[number]

/** Why a job came back, in our own wording: the ready answers; a workshop may use another word. */
export const CAUSE_CATEGORIES = [
  'tightening',
  'assembly_or_alignment',
  'missed_finding',
  'wrong_diagnosis',
  'part',
  'earlier_work_elsewhere',
  'owners_own_work',
  'wear',
  'no_fault_found',
] as const

export const BEARERS = ['us', 'supplier', 'customer', 'shared'] as const
export type Bearer = (typeof BEARERS)[number]

/** How far a claim on a supplier has come. The last three close it. */
export const RECOVERY_STATES = ['claimed', 'agreed', 'paid', 'refused', 'given_up'] as const
export type RecoveryState = (typeof RECOVERY_STATES)[number]
export const OPEN_RECOVERY_STATES: readonly RecoveryState[] = ['claimed', 'agreed']

/** What a customer wants done with the parts that were replaced. */
export const OLD_PARTS_WISHES = ['give_back', 'throw_away'] as const

/** Who pays for a strip-down step that had to be opened again. */
export const OPENING_BEARERS = ['us', 'customer'] as const
export type OpeningBearer = (typeof OPENING_BEARERS)[number]

export const HISTORY_EVENTS = ['in_service', 'seen', 'work', 'failure'] as const
export type HistoryEventKind = (typeof HISTORY_EVENTS)[number]
