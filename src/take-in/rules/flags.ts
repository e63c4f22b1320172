import { type CalendarDate, daysBetween } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import type { Doer, Exactness, OdometerUnit, Severity } from '../../core/vocabulary.ts'
import { distanceInWords, inText, listed } from '../../core/words.ts'
import { DOER_WORDS, whenInWords } from './words.ts'

const FLAG_REASONS = [
  'suspected_comeback',
  'comeback_to_be',
  'joint_in_doubt',
  'part_in_doubt',
  'tool_still_in',
  'safety_finding',
  'warranty_running',
  'left_for_later',
  'others_work',
  'odometer',
] as const
export type FlagReason = (typeof FLAG_REASONS)[number]

/** Something that the record says about a vehicle that comes in: fit to be read by its customer over the desk. */
export interface Flag {
  reason: FlagReason
  sentence: string
  /** Why it is said, as sentences; may be empty. */
  because: string
  href: string
}

export interface WarrantyFact {
  until_on?: CalendarDate
  until_km?: number
}

interface Suspicion {
  earlier_job_id: string
  sentence: string
  reasons: readonly string[]
  href: string
}

/** What the flags are made of. Everything is of one vehicle; distances in km. */
export interface FlagFacts {
  /** The day it came in, or today while it has not been taken in. */
  on: CalendarDate
  /** What the odometer showed then, or last; null when nobody knows. */
  odometer_km: number | null
  odometer_unit: OdometerUnit
  suspicions: readonly Suspicion[]
  /** The same before there is an order. */
  to_be: readonly Suspicion[]
  /** Our jobs that were handed back before. */
  jobs: readonly {
    id: string
    work_order_id: string
    work_order_number: string
    task: string
    handed_back_on: CalendarDate
    warranty: WarrantyFact | null
  }[]
  /** Said as the customer may hear it. `severity` is null for a part whose joint nobody named. */
  doubts: readonly { sentence: string; severity: Severity | null; href: string }[]
  /** Tools of an earlier stay that nobody wrote out. */
  tools: readonly { tool: string; work_order_id: string; work_order_number: string }[]
  /** Of earlier stays: what safety hangs on and nobody has put right. `advice` is the technician's word; null without one. */
  safety_findings: readonly { text: string; on: CalendarDate; advice: string | null; href: string }[]
  left_for_later: readonly { text: string; on: CalendarDate; amount: string | null; href: string }[]
  /** Work by others; `may_cause`: the components it was at that can cause a symptom of this stay. Null: no symptom is known yet. */
  others: readonly {
    operation: string
    by: Exclude<Doer, 'us'>
    on: CalendarDate | null
    exactness: Exactness
    evidence: string | null
    may_cause: readonly { component: string; symptom: string }[] | null
  }[]
  /** What is odd about the reading it came in with. */
  odometer_oddities: readonly string[]
  vehicle_href: string
}

/** Everything that is worth saying at the desk, what is most likely ours first. */
export function flagsFrom(facts: FlagFacts): Flag[] {
  const suspected = new Set([...facts.suspicions, ...facts.to_be].map(suspicion => suspicion.earlier_job_id))
  return [
    ...facts.suspicions.map(suspicion => suspectedComeback(facts, suspicion, 'suspected_comeback')),
    ...facts.to_be.map(suspicion => suspectedComeback(facts, suspicion, 'comeback_to_be')),
    ...facts.doubts.map(inDoubt),
    ...facts.tools.map(toolStillIn),
    ...facts.safety_findings.map(safetyFinding),
    ...facts.jobs.filter(job => !suspected.has(job.id)).flatMap(job => warrantyRunning(facts, job)),
    ...facts.left_for_later.map(leftForLater),
    ...facts.others.flatMap(work => othersWork(facts, work)),
    ...facts.odometer_oddities.map(detail => odometer(facts, detail)),
  ]
}

function suspectedComeback(facts: FlagFacts, suspicion: Suspicion, reason: FlagReason): Flag {
  const { sentence, reasons, href, earlier_job_id } = suspicion
  const warranty = facts.jobs.find(job => job.id === earlier_job_id)?.warranty ?? null
  const came = sentence.replace(/\.$/, '')
  const still = isRunning(warranty, facts) ? `; still under warranty ${termInWords(warranty, facts.odometer_unit)}` : ''
  return { reason, sentence: `${came}${still}.`, because: reasons.join(' '), href }
}

function inDoubt({ sentence, severity, href }: FlagFacts['doubts'][number]): Flag {
  if (severity === null)
    return { reason: 'part_in_doubt', sentence, because: 'It is in doubt until somebody has looked at it.', href }
  const because =
    severity === 'safety'
      ? 'Safety hangs on this joint: look at it before anyone drives the vehicle again.'
      : 'It is in doubt until somebody has looked at it.'
  return { reason: 'joint_in_doubt', sentence, because, href }
}

function toolStillIn({ tool, work_order_id, work_order_number }: FlagFacts['tools'][number]): Flag {
  return {
    reason: 'tool_still_in',
    sentence: `The tool “${tool}” was put in on work order ${work_order_number} and nobody has written it out: look for it before anyone drives the vehicle.`,
    because: '',
    href: `/work-orders/${work_order_id}`,
  }
}

/** The technician's word stands as it was given; nothing is worked out about the road. */
export function safetyFinding({ text, on, advice, href }: FlagFacts['safety_findings'][number]): Flag {
  const said = advice === null ? '' : ` ${advice.replace(/\.?$/, '.')}`
  return {
    reason: 'safety_finding',
    sentence: `On ${longDay(on)} we found: ${inText(text)}.${said} Nothing written down says that it was put right.`,
    because: 'Safety hangs on it: look at it first.',
    href,
  }
}

function warrantyRunning(facts: FlagFacts, job: FlagFacts['jobs'][number]): Flag[] {
  if (!isRunning(job.warranty, facts)) return []
  const days = daysBetween(job.handed_back_on, facts.on)
  const ago = days === 0 ? 'the same day' : days === 1 ? 'one day before' : `${days} days before`
  return [
    {
      reason: 'warranty_running',
      sentence: `Our work “${job.task}” (work order ${job.work_order_number}) is under warranty ${termInWords(job.warranty, facts.odometer_unit)}.`,
      because: `Handed back on ${longDay(job.handed_back_on)}, ${ago}.`,
      href: `/work-orders/${job.work_order_id}`,
    },
  ]
}

function leftForLater({ text, on, amount, href }: FlagFacts['left_for_later'][number]): Flag {
  const end = /[.!?]$/.test(text) ? '' : '.'
  return {
    reason: 'left_for_later',
    sentence: `Left for later on ${longDay(on)}: ${inText(text)}${end}`,
    because: amount === null ? '' : `Priced then at ${amount}.`,
    href,
  }
}

function othersWork(facts: FlagFacts, work: FlagFacts['others'][number]): Flag[] {
  if (work.may_cause !== null && work.may_cause.length === 0) return []
  const done = `“${work.operation}” was done by ${DOER_WORDS[work.by]} ${whenInWords(work.on, work.exactness)}`
  const about =
    work.may_cause === null
      ? ''
      : ` That is work at the ${listed([...new Set(work.may_cause.map(({ component }) => inText(component)))])}, which can cause: ${listed([...new Set(work.may_cause.map(({ symptom }) => symptom))])}.`
  return [
    {
      reason: 'others_work',
      sentence: `${done}.${about}`,
      because: work.evidence === null ? '' : `Evidence: ${inText(work.evidence)}.`,
      href: facts.vehicle_href,
    },
  ]
}

function odometer(facts: FlagFacts, detail: string): Flag {
  return { reason: 'odometer', sentence: `The odometer: ${detail}`, because: '', href: facts.vehicle_href }
}

/** Whether a promise still holds on the day the vehicle came in, as far as its odometer is known. */
export function isRunning(
  warranty: WarrantyFact | null,
  { on, odometer_km }: Pick<FlagFacts, 'on' | 'odometer_km'>,
): warranty is WarrantyFact {
  if (warranty === null) return false
  const { until_on, until_km } = warranty
  if (until_on === undefined && until_km === undefined) return false
  if (until_on !== undefined && until_on < on) return false
  return until_km === undefined || odometer_km === null || odometer_km <= until_km
}

/** "to 24 March 2032 or 160 300 km, whichever comes first". */
export function termInWords({ until_on, until_km }: WarrantyFact, unit: OdometerUnit): string {
  const km = until_km === undefined ? '' : distanceInWords(until_km, unit)
  if (until_on === undefined) return `to ${km}`
  return km === '' ? `to ${longDay(until_on)}` : `to ${longDay(until_on)} or ${km}, whichever comes first`
}
