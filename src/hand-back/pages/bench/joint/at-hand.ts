import { isRepeat } from '../../../../core/fastening/repeat.ts'
import { type StageKind, TORQUE_UNITS } from '../../../../core/vocabulary.ts'
import { TORQUE_UNIT_WORDS } from '../../../../core/words.ts'
import type { Action, HiddenField } from '../../../../platform/pages/actions.ts'
import type { AtHand } from '../../../service/bench/at-hand.ts'
import { figure, inward, isByAngle, measure, OUT_OF_ORDER_ANSWERS, STAGE_WORDS } from '../words.ts'

const ACTION_WORDS: Record<AtHand['action'], string> = {
  tighten: '',
  restart: 'loosen it. All its stages again.',
  replace: 'take it out and fit a new one. All its stages again.',
}

/** What came back to be put right, or nothing. */
export interface Typed {
  value: string
  unit: string
  reason: string
  note: string
}

/** What stands beside the drawing: which fastener, what to bring it to, what counts, and with what. */
export function atHandView(atHand: AtHand, stages: readonly { kind: StageKind; target: number }[], typed: Typed) {
  const { kind, target, unit, stage } = atHand
  const byAngle = isByAngle(kind)
  const clicks = isSet(atHand)
  const before = byAngle ? stages[stage - 2] : undefined
  return {
    say_next: `Fastener ${atHand.number}, stage ${stage} of ${stages.length}`,
    do_words: doWords(atHand, stages),
    target: measure(kind, target),
    also: byAngle || unit === 'N.m' ? '' : measure(kind, target, unit).replace(/^.*\(|\)$/g, ''),
    limits: `${figure(atHand.lower)} to ${figure(atHand.upper)}${atHand.default_used ? ', the workshop’s own tolerance' : ''}`,
    after: before === undefined ? '' : `after ${measure(before.kind, before.target)}`,
    counts: countsWords(atHand),
    set_words: setWords(atHand),
    first: ACTION_WORDS[atHand.action],
    must_fit: atHand.action === 'replace',
    clicks,
    about: `${atHand.position}-${stage}-${atHand.fastener}`,
    reading_label: byAngle ? 'What the gauge shows' : 'What the wrench shows',
    button: clicks
      ? `Clicked at ${measure(kind, setTo(atHand))}: record fastener ${atHand.number}`
      : `Record fastener ${atHand.number}`,
    hidden: hiddenOf(atHand, clicks),
    set_to: typed.value === '' ? String(setTo(atHand)) : typed.value,
    units: byAngle
      ? null
      : TORQUE_UNITS.map(each => ({
          value: each,
          label: TORQUE_UNIT_WORDS[each],
          selected: each === (typed.unit === '' ? unit : typed.unit),
        })),
    typed,
    may_note: atHand.torque !== null && atHand.torque.wrench === null,
    out_of_order: atHand.in_turn
      ? null
      : OUT_OF_ORDER_ANSWERS.map((answer, at) => ({
          id: at === 0 ? 'out-of-order-reason' : `why-${at}`,
          answer,
          ticked: typed.reason === answer,
        })),
  }
}

/** A wrench that clicks is recorded as set, never as measured. */
function isSet(atHand: AtHand): boolean {
  return atHand.torque?.wrench?.kind === 'clicks'
}

/** What the wrench must be set to, or show, in N·m: through an adapter not the target itself. Kept to what a double can hold. */
export function setTo({ torque, target }: AtHand): number {
  return Number((torque?.adapter?.set_nm ?? target).toPrecision(12))
}

const MANUAL = 'The maker’s manual governs.'

/** "Counts from 24.2 to 25.8 N·m with this wrench": the limits less what the tool in hand may be wrong by. */
export function countsWords(atHand: AtHand): string {
  const { kind, uncertainty, torque, angle } = atHand
  const tool = angle === null ? 'wrench' : 'gauge'
  const none = torque !== null ? torque.wrench === null : angle?.gauge === null && angle.gauges.setting_deg === null
  if (none) return `Nothing counts yet: no ${tool} of the shop can be used here. See why below.`
  const known = torque?.adapter?.problem ?? null
  if (known !== null) return `Nothing counts with this adapter: ${known}`
  if (uncertainty === null) return `Nothing counts with this ${tool}: nobody knows how good it is.`
  const share = setTo(atHand) / atHand.target
  const [lower, upper] = [atHand.lower + uncertainty, atHand.upper - uncertainty]
  if (lower > upper + 1e-9)
    return `Nothing counts with this ${tool}: it is good to ±${measure(kind, uncertainty)}, and the tolerance is narrower. ${MANUAL}`
  if (isSet(atHand)) return `Counts when it clicks as set: it is good to ±${measure(kind, uncertainty)}. ${MANUAL}`
  const { from, to } = inward(lower * share, upper * share)
  const shown = torque?.adapter == null ? 'Counts' : 'Counts when the wrench shows'
  return `${shown} ${torque?.adapter == null ? 'from ' : ''}${from} to ${to}${kind === 'torque' || kind === 'check' ? ' N·m' : '°'} with this ${tool}. ${MANUAL}`
}

/** What to do to the target. A wrench that clicks is set to it, unless an adapter makes it another value (`setWords`). */
function doWords(atHand: AtHand, stages: readonly { kind: StageKind; target: number }[]): string {
  if (isSet(atHand) && atHand.torque?.adapter == null) return 'set the wrench to'
  return isRepeat(stages, atHand.stage - 1) ? 'tighten again to' : STAGE_WORDS[atHand.kind]
}

function setWords(atHand: AtHand): string {
  const { kind, unit, torque } = atHand
  if (torque?.adapter?.set_nm == null) return ''
  const set = measure(kind, setTo(atHand), unit)
  return `${isSet(atHand) ? `Set the wrench to ${set}` : `The wrench must show ${set}`}; hand at the grip mark.`
}

function hiddenOf(atHand: AtHand, clicks: boolean): HiddenField[] {
  const { torque, angle } = atHand
  const field = (name: string, value: string | number | undefined): HiddenField[] =>
    value === undefined ? [] : [{ name, value: String(value) }]
  return [
    ...placeFields(atHand),
    ...(angle === null ? [] : field('unit', 'deg')),
    ...field('basis', clicks ? 'set' : 'measured'),
    ...field('wrench_id', torque?.wrench?.id),
    ...field('gauge_id', angle?.gauge?.id),
    ...adapterFields(atHand),
  ]
}

function placeFields({ position, stage, fastener }: Pick<AtHand, 'position' | 'stage' | 'fastener'>): HiddenField[] {
  return Object.entries({ position, stage, fastener }).map(([name, value]) => ({ name, value: String(value) }))
}

function adapterFields({ torque }: AtHand): HiddenField[] {
  if (torque?.adapter == null) return []
  return [
    { name: 'adapter_id', value: torque.adapter.facts.id },
    { name: 'adapter_angle_deg', value: String(torque.adapter.angle_deg) },
  ]
}

/** What somebody chose to work with: it goes along with every way on this page. */
export type Chosen = Record<string, string | number | undefined>

/** The tools in hand as a query, so that the next page has them too. */
export function toolsQuery(tools: Chosen): string {
  const said = Object.entries(tools).flatMap(([name, value]): [string, string][] =>
    value === undefined ? [] : [[name, String(value)]],
  )
  return said.length === 0 ? '' : `?${new URLSearchParams(said)}`
}

/** The same for a fastener at hand, with what one of them should become. */
export function withTools(jointId: string, atHand: AtHand, other: Chosen = {}): string {
  const { torque, angle, position, is_next, unit } = atHand
  const now = {
    position: is_next ? undefined : position,
    wrench_id: torque?.wrench?.id,
    gauge_id: angle?.gauge?.id,
    adapter_id: torque?.adapter?.facts.id,
    adapter_angle_deg: torque?.adapter?.angle_deg,
    unit,
  }
  return `/bench/joints/${jointId}${toolsQuery({ ...now, ...other })}#now`
}

const EVENT_LABELS = {
  slipped: 'Slipped',
  angle_not_known: 'Angle not known',
  broke: 'Broke',
  replaced: 'Replaced by a new one',
} as const

type Event = keyof typeof EVENT_LABELS

/** What cannot be read off: one tap each, then the procedure's own rule. */
export function eventActions(jointId: string, atHand: AtHand): Action[] {
  if (atHand.action === 'replace')
    return happenedActions(jointId, { ...atHand, fastener: atHand.fastener - 1 }, ['replaced']).map(action => ({
      ...action,
      main: true,
      label: 'New one fitted',
    }))
  const events: Event[] = ['slipped', 'broke', 'replaced']
  return happenedActions(jointId, atHand, isByAngle(atHand.kind) ? ['angle_not_known', ...events] : events)
}

/** What happened to the fastener that is there; a new one bears the next number. */
export function happenedActions(
  jointId: string,
  at: Pick<AtHand, 'position' | 'number' | 'stage' | 'fastener'>,
  events: readonly Event[],
): Action[] {
  return events.map(event => ({
    kind: 'post',
    label: EVENT_LABELS[event],
    about: `fastener ${at.number}`,
    action: `/bench/joints/${jointId}/events`,
    hidden: [
      ...placeFields({ ...at, fastener: at.fastener + (event === 'replaced' ? 1 : 0) }),
      { name: 'event', value: event },
    ],
  }))
}
