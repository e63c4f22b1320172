import { isRepeat } from '../../core/fastening/repeat.ts'
import type { OnFailure, Reuse, Severity, StageKind } from '../../core/vocabulary.ts'
import { capital, counted } from '../../core/words.ts'
import type { ProcedureRevision, Stage } from '../contract.ts'
import { orderOfPositions } from '../rules/tightening.ts'

export const REUSE_WORDS: Record<Reuse, string> = {
  never: 'never: new ones each time',
  after_inspection: 'after inspection',
  free: 'yes, as they are',
}

export const FAILURE_WORDS: Record<OnFailure, string> = {
  restart: 'loosen it and take it through all stages again, from the first',
  replace: 'take it out, fit a new one, and take that through all stages',
  redo_joint: 'loosen every fastener and redo the whole joint',
}

/** The three levels of VDI/VDE 2862. */
export const SEVERITY_WORDS: Record<Severity, string> = {
  safety: 'safety: life or limb may hang on it',
  breakdown: 'breakdown: the vehicle stops or does not work',
  nuisance: 'nuisance: it annoys and no more',
}

/** A number as a manual prints it: at most two places, none that say nothing. */
export function figure(value: number): string {
  return String(Number(value.toFixed(2)))
}

export function measured(kind: StageKind, value: number): string {
  return kind === 'angle' || kind === 'loosen' ? `${figure(value)}°` : `${figure(value)} N·m`
}

/** What is done at a stage: 'tighten to 40 N·m', 'tighten again to 40 N·m', 'turn further by 90°'. */
export function stageInWords(stages: readonly Stage[], at: number): string {
  const { kind, target } = stages[at]!
  const verbs: Record<StageKind, string> = {
    torque: isRepeat(stages, at) ? 'tighten again to' : 'tighten to',
    angle: 'turn further by',
    loosen: 'loosen by',
    check: 'check the torque:',
  }
  return `${verbs[kind]} ${measured(kind, target)}`
}

function limitsInWords({ kind, lower, upper }: Stage): string {
  if (lower !== undefined && upper !== undefined) return ` (${figure(lower)} to ${measured(kind, upper)})`
  if (lower !== undefined) return ` (at least ${measured(kind, lower)})`
  return upper === undefined ? '' : ` (at most ${measured(kind, upper)})`
}

function placesInWords({ count, layout, rows }: ProcedureRevision): string {
  if (layout === 'rectangle') return `in ${rows} rows of ${count / (rows ?? 1)}`
  return { circle: 'on a circle', row: 'in a row', free: 'placed freely' }[layout]
}

function orderInWords(revision: ProcedureRevision): string {
  const order = orderOfPositions(revision).join(' ')
  if (revision.order === undefined) {
    return revision.layout === 'free' ? `${order}: as they are numbered` : `${order}: by the rule for this layout`
  }
  return revision.order_names === 'labels'
    ? `${order}: the maker’s own, printed as labels ${revision.order.join(' ')}`
    : `${order}: the maker’s own, printed as positions`
}

/** All that a revision says but its stages, each under its name; the same words tell what a later one changed. */
export function saidBy(revision: ProcedureRevision): { label: string; value: string }[] {
  const { count, thread, class: strength, finish, reuse, severity, on_failure, source, positions, marks } = revision
  const size = [thread, strength && `class ${strength}`, finish].filter(Boolean).join(', ')
  const placed = positions === undefined ? '' : ', positions to scale'
  return [
    { label: 'Fasteners', value: `${counted(count, 'fastener')} ${placesInWords(revision)}${placed}` },
    { label: 'Thread, class, finish', value: size || 'not said' },
    { label: 'Order, by position', value: orderInWords(revision) },
    { label: 'Fasteners may be used again', value: REUSE_WORDS[reuse] },
    { label: 'When one fails, slips or is disturbed', value: FAILURE_WORDS[on_failure] },
    { label: 'When the joint fails', value: SEVERITY_WORDS[severity] },
    { label: 'Marks before removal', value: marks?.join('; ') ?? 'none' },
    { label: 'Source', value: source },
  ]
}

/** What a revision changed, as sentences that tell what stood there before. `before` is left out for the first one. */
export function changesInWords(revision: ProcedureRevision, before: ProcedureRevision | undefined): string[] {
  if (before === undefined) return ['The first.']
  const earlier = sayAll(before)
  const changed = sayAll(revision).flatMap(({ label, value }, at) => {
    const was = earlier[at]!.value
    return was === value ? [] : [`${label}: ${value}; was ${was}.`]
  })
  const moved = JSON.stringify(before.positions) !== JSON.stringify(revision.positions)
  return changed.length > 0 ? changed : [moved ? 'Positions moved.' : 'Nothing but this entry.']
}

function sayAll(revision: ProcedureRevision): { label: string; value: string }[] {
  return [{ label: 'Stages', value: stagesInWords(revision.stages) }, ...saidBy(revision)]
}

/** 'Tighten to 40 N·m (38 to 42 N·m); then turn further by 32°'. */
export function stagesInWords(stages: readonly Stage[]): string {
  return capital(stages.map((stage, at) => stageInWords(stages, at) + limitsInWords(stage)).join('; then '))
}
