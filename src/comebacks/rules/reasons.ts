import { daysBetween } from '../../core/calendar.ts'
import { SUSPICION_REASONS, type SuspicionReason } from '../../core/vocabulary.ts'

/** A job of ours that was handed back, or our work in an imported history, as a suspicion sees it. */
export interface EarlierJob {
  operation_id: string | null
  symptom_ids: readonly string[]
  /** Components that had failed or that it put right. */
  component_ids: readonly string[]
  /** Components that its strip-down disturbed. */
  disturbed_ids: readonly string[]
  /** What is not beyond doubt about it, each as a sentence. */
  nonconformities: readonly string[]
}

/** A later stay of the vehicle. */
export interface LaterStay {
  symptom_ids: readonly string[]
  /** Components found failed during it. */
  component_ids: readonly string[]
}

/** What the shop knows beyond the two: which components cause a symptom, and which failures often follow an operation. */
export interface Knowledge {
  causesOf(symptomId: string): ReadonlySet<string>
  /** Components in whose failure a pair ends that is "often followed by". */
  oftenAfter(operationId: string): ReadonlySet<string>
}

/** Why, with what it is about: ids of the symptom and the component, or a sentence of its own. */
export interface FoundReason {
  reason: SuspicionReason
  symptom_id?: string
  component_id?: string
  sentence?: string
}

/**
 * How many days a job is watched for comebacks: its warranty. Without one, imported work has the settings' warranty, since
 * nobody said that it had none; a job of our own the settings' window.
 */
export function windowDays(
  job: { warranty_days: number | null; is_imported: boolean },
  settings: { warranty_days: number; comeback_window_days: number },
): number {
  return job.warranty_days ?? (job.is_imported ? settings.warranty_days : settings.comeback_window_days)
}

/** Whether a stay began within the window of a job. */
export function isWithin(handedBackOn: string, takenInOn: string, window: number): boolean {
  const days = daysBetween(handedBackOn, takenInOn)
  return days >= 0 && days <= window
}

/**
 * Every reason why a stay may be there because of an earlier job; none: it is not suspected. In the order of the vocabulary,
 * each reason once, with the first symptom and component that gives it.
 */
export function reasonsFor(earlier: EarlierJob, later: LaterStay, knowledge: Knowledge): FoundReason[] {
  const found = new Map<SuspicionReason, FoundReason>()
  const add = (reason: FoundReason) => {
    if (!found.has(reason.reason)) found.set(reason.reason, reason)
  }
  const often = earlier.operation_id === null ? new Set<string>() : knowledge.oftenAfter(earlier.operation_id)
  for (const symptom_id of later.symptom_ids) {
    if (earlier.symptom_ids.includes(symptom_id)) add({ reason: 'same_symptom', symptom_id })
    for (const component_id of knowledge.causesOf(symptom_id)) {
      if (earlier.disturbed_ids.includes(component_id)) add({ reason: 'disturbed', symptom_id, component_id })
      if (often.has(component_id)) add({ reason: 'known_pair', symptom_id, component_id })
    }
  }
  for (const component_id of later.component_ids) {
    if (earlier.component_ids.includes(component_id)) add({ reason: 'same_component', component_id })
  }
  const [sentence] = earlier.nonconformities
  if (sentence !== undefined) add({ reason: 'open_nonconformity', sentence })
  return SUSPICION_REASONS.flatMap(reason => found.get(reason) ?? [])
}
