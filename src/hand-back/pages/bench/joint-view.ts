import { type Settings, settingsOf } from '../../../accounts/index.ts'
import { localTimeOf } from '../../../core/calendar.ts'
import type { Context } from '../../../platform/context.ts'
import type { Action } from '../../../platform/pages/actions.ts'
import { boltPattern } from '../../../platform/pages/figures/bolt-pattern.ts'
import type { FastenerView } from '../../../platform/pages/figures/joint.ts'
import { column, table } from '../../../platform/pages/table.ts'
import { link, ref, type Words, words } from '../../../platform/pages/words.ts'
import { troubleInWords } from '../../../tools/index.ts'
import type { AtHand, JointAtBench } from '../../service/bench/joint.ts'
import { EVENT_WORDS, figure, isByAngle, measure, STAGE_WORDS, VERDICT_WORDS } from './words.ts'

/** The joint's drawing: each fastener with its bars, and the one to touch next. */
export function patternOf({ joint, places, numbers, at_hand }: JointAtBench, isLive: boolean) {
  const { id, name } = joint.row.joint
  const stageCount = joint.row.revision.stages.length
  const fasteners = joint.state.fasteners.map((fastener, at): FastenerView => {
    const bars = fastener.stages.filter(stage => stage.record_id !== null).length
    const isNext = at_hand?.position === fastener.position
    const state = fastener.complete
      ? 'complete'
      : isNext
        ? 'next'
        : fastener.redo
          ? 'redo'
          : fastener.unsure
            ? 'unsure'
            : 'waiting'
    return {
      number: numbers[at]!,
      ...places[at]!,
      bars,
      at_stage: fastener.fault?.stage ?? fastener.next_stage ?? stageCount,
      state,
      href: isLive && !fastener.complete ? `/bench/joints/${id}?position=${fastener.position}#now` : null,
    }
  })
  return boltPattern({
    id: 'joint',
    title: `${name}, ${joint.state.fasteners.length} fasteners`,
    word: 'fastener',
    stages: stageCount,
    fasteners,
  })
}

const ACTION_WORDS: Record<AtHand['action'], string> = {
  tighten: '',
  restart: 'loosen it. All its stages again.',
  replace: 'take it out and fit a new one. All its stages again.',
}

/** What stands beside the drawing: which fastener, what to bring it to, and with what. */
export function atHandView(atHand: AtHand, stageCount: number) {
  const { kind, target, lower, upper } = atHand
  const byAngle = isByAngle(kind)
  const clicks = !byAngle && atHand.wrench?.kind === 'clicks'
  return {
    say_next: `Fastener ${atHand.number}, stage ${atHand.stage} of ${stageCount}`,
    do_words: STAGE_WORDS[kind],
    target: measure(kind, target),
    limits: `${figure(lower)} to ${figure(upper)}${atHand.default_used ? ', the workshop’s own tolerance' : ''}`,
    first: ACTION_WORDS[atHand.action],
    must_fit: atHand.action === 'replace',
    by_angle: byAngle,
    clicks,
    reading_label: byAngle ? 'What the gauge shows' : 'What the wrench shows',
    unit_label: byAngle ? 'degrees' : 'N·m',
    button: clicks
      ? `Clicked at ${measure(kind, target)}: record fastener ${atHand.number}`
      : `Record fastener ${atHand.number}`,
    hidden: hiddenOf(atHand, clicks),
  }
}

function hiddenOf(atHand: AtHand, clicks: boolean): { name: string; value: string }[] {
  const byAngle = isByAngle(atHand.kind)
  return [
    { name: 'position', value: String(atHand.position) },
    { name: 'stage', value: String(atHand.stage) },
    { name: 'fastener', value: String(atHand.fastener) },
    { name: 'unit', value: byAngle ? 'deg' : 'N.m' },
    { name: 'basis', value: clicks ? 'set' : 'measured' },
    ...(clicks ? [{ name: 'value', value: String(atHand.target) }] : []),
    ...(atHand.wrench === null ? [] : [{ name: 'wrench_id', value: atHand.wrench.id }]),
  ]
}

/** What cannot be read off: one tap each, then the procedure's own rule. */
export function eventActions(jointId: string, atHand: AtHand): Action[] {
  const events = isByAngle(atHand.kind)
    ? (['slipped', 'angle_not_known', 'broke', 'replaced'] as const)
    : (['slipped', 'broke', 'replaced'] as const)
  const fitsFirst = atHand.action === 'replace'
  const labels = {
    slipped: 'It slipped',
    angle_not_known: 'Angle not known',
    broke: 'It broke',
    replaced: 'New one fitted',
  }
  // what happened happened to the fastener that is there, not to the one that will replace it
  const fastener = atHand.action === 'replace' ? atHand.fastener - 1 : atHand.fastener
  return (fitsFirst ? (['replaced'] as const) : events).map(event => ({
    kind: 'post',
    ...(fitsFirst && { main: true }),
    label: labels[event],
    about: `fastener ${atHand.number}`,
    action: `/bench/joints/${jointId}/events`,
    hidden: [
      { name: 'position', value: String(atHand.position) },
      { name: 'stage', value: String(atHand.stage) },
      { name: 'fastener', value: String(event === 'replaced' ? fastener + 1 : fastener) },
      { name: 'event', value: event },
    ],
  }))
}

/** Facts in a line under the drawing: the wrench, what counts as right, what was recorded last, the order. */
export function jointFacts(ctx: Context, sheet: JointAtBench): { label: string; value: Words }[] {
  const { joint, at_hand } = sheet
  const settings = settingsOf(ctx)
  const last = joint.records.at(-1)
  return [
    ...(at_hand === null
      ? []
      : [
          { label: 'Wrench', value: wrenchWords(at_hand) },
          { label: 'Counts as right', value: rightWords(at_hand) },
        ]),
    ...(last === undefined ? [] : [{ label: 'Recorded last', value: recordWords(sheet, last, settings) }]),
    {
      label: 'Order',
      value: `${joint.procedure.order.join(' ')} by position${joint.row.revision.order === null ? ', by rule' : ', the maker’s own'}; it matters here`,
    },
  ]
}

function wrenchWords(atHand: AtHand): Words {
  if (atHand.wrenches === null) return `an angle gauge, good to ±${figure(atHand.uncertainty ?? 0)}° (a setting)`
  if (atHand.wrench === null) return 'no wrench of the shop can be used here: see why below'
  const { name, kind } = atHand.wrench
  const good =
    atHand.uncertainty === null ? 'its uncertainty is not known' : `good to ±${figure(atHand.uncertainty)} N·m here`
  return words(link(`/wrenches`, ref(name)), `, ${kind === 'clicks' ? 'clicks at its setting' : 'reads out'}, ${good}`)
}

function rightWords({ kind, lower, upper, uncertainty }: AtHand): string {
  if (uncertainty === null) return 'nothing, with this wrench: nobody knows how good it is'
  const [from, to] = [lower + uncertainty, upper - uncertainty]
  if (from > to) return 'nothing: the tolerance is narrower than this tool can prove; the maker’s manual governs'
  return `${measure(kind, from)} to ${measure(kind, to)}, the tool being good to ±${figure(uncertainty)}; the maker’s manual governs`
}

type RecordRow = JointAtBench['joint']['records'][number]

export function recordWords({ joint, numbers }: JointAtBench, record: RecordRow, settings: Settings): string {
  const kind = joint.row.revision.stages[record.stage - 1]!.kind
  const said =
    record.event !== null
      ? EVENT_WORDS[record.event]
      : `${measure(kind, record.value_si ?? 0)}, ${VERDICT_WORDS[record.verdict ?? 'unsure']}`
  return `fastener ${numbers[record.position - 1]}, stage ${record.stage}: ${said}, ${localTimeOf(record.made_at, settings.time_zone)}`
}

/** The wrenches of the shop for this stage: the surest first, and why each other one is out. */
export function wrenchTable(jointId: string, atHand: AtHand) {
  if (atHand.wrenches === null) return null
  const { best_first, out, can_be_proved } = atHand.wrenches
  const use = (id: string) => `/bench/joints/${jointId}?position=${atHand.position}&wrench_id=${id}#now`
  return {
    cannot_prove: !can_be_proved,
    table: table({
      columns: [column('Wrench'), column('Good to', 'figure'), column('Here')],
      rows: [
        ...best_first.map(({ wrench, uncertainty_nm, proves_tolerance }) => ({
          cells: [
            words(ref(wrench.name)),
            uncertainty_nm === null ? 'not known' : `±${figure(uncertainty_nm)} N·m`,
            wrench.id === atHand.wrench?.id
              ? 'in hand'
              : words(proves_tolerance ? '' : 'cannot prove this tolerance; ', link(use(wrench.id), 'take this one')),
          ],
        })),
        ...out.map(({ wrench, because }) => ({
          cells: [words(ref(wrench.name)), '', because.map(troubleInWords).join(', ')],
        })),
      ],
      empty: 'There is no wrench in the register.',
    }),
  }
}

/** The newest records of the joint; each that stands can be put right. `most` is how many are shown. */
export function recordsTable(sheet: JointAtBench, people: Map<string, string>, settings: Settings, most: number) {
  const { joint, numbers } = sheet
  const superseded = new Set(joint.records.map(record => record.supersedes_id))
  return table({
    columns: [
      column('Fastener', 'figure'),
      column('Stage', 'figure'),
      column('Recorded'),
      column('When'),
      column('By'),
      column(''),
    ],
    rows: joint.records
      .toReversed()
      .slice(0, most)
      .map(record => {
        const kind = joint.row.revision.stages[record.stage - 1]!.kind
        const value =
          record.event !== null
            ? EVENT_WORDS[record.event]
            : `${measure(kind, record.value_si ?? 0)} ${record.basis ?? ''}: ${VERDICT_WORDS[record.verdict ?? 'unsure']}`
        const notes = [record.out_of_order_reason, record.reason].filter(note => note !== null)
        return {
          cells: [
            `${numbers[record.position - 1]}${record.fastener > 1 ? ` (no. ${record.fastener})` : ''}`,
            String(record.stage),
            { text: superseded.has(record.id) ? `${value} (put right since)` : value, notes },
            localTimeOf(record.made_at, settings.time_zone),
            record.created_by === null ? '' : (people.get(record.created_by) ?? ''),
            superseded.has(record.id)
              ? ''
              : words(link(`/bench/joints/${joint.row.joint.id}/records/${record.id}`, 'Put right')),
          ],
        }
      }),
    empty: 'Nothing is recorded yet.',
  })
}
