import { capital, counted, countWord, inText } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { type Cell, column, type Row, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'
import { type Call, callsSince } from '../service/calls.ts'
import { inDoubtBriefly } from '../service/doubts-told.ts'
import { type DoubtGroup, type InDoubt, inDoubt, type SettledDoubt } from '../service/in-doubt.ts'
import { settledAtOnce } from '../service/settle-doubts.ts'
import { callSheet } from './call-sheet.ts'
import { causeWords } from './cause-words.ts'
import {
  callWords,
  dayWords,
  leftWords,
  momentWords,
  severityWords,
  thingsWords,
  vehicleWords,
  whereWords,
} from './words.ts'

const SETTLED_SHOWN = 30

/** What is in doubt and why, with whom to call; on paper a line for each call. Settled ones below, briefly. */
export function inDoubtPage(pages: Pages): void {
  pageRead(pages, {
    url: '/in-doubt',
    handle(ctx) {
      const { time_zone } = pages.habits()
      const found = inDoubt(ctx)
      const joints = new Set(found.open.flatMap(group => group.joints.map(doubt => doubt.joint_id))).size
      const shown: Shown = {
        ...{ found, time_zone, may_settle: ctx.actor?.role !== 'desk' },
        calls: callsSince(
          ctx,
          found.open.flatMap(group => [...group.joints, ...group.parts]),
        ),
      }
      return {
        template: 'fastening/in-doubt',
        sheet: {
          title: 'In doubt',
          sheet_number: joints === 0 ? 'no joint' : counted(joints, 'joint'),
          subject:
            inDoubtBriefly(ctx) ?? 'What a bad wrench, batch or procedure has touched, until a person settles it',
          dates: dayWords(new Date(ctx.clock.now()).toISOString(), time_zone),
          nav: 'in-doubt',
        },
        view: {
          groups: found.open.map(group => groupView(ctx, group, shown)),
          calls: found.open.length === 0 ? null : callSheet(found, shown.calls, time_zone),
          settled: settledTable(found, time_zone),
          more_settled: Math.max(0, found.settled.length - SETTLED_SHOWN),
        },
      }
    },
  })
}

/** What the rows are told from. */
interface Shown {
  found: InDoubt
  calls: ReadonlyMap<string, Call>
  time_zone: string
  may_settle: boolean
}

function groupView(ctx: Context, group: DoubtGroup, shown: Shown) {
  const { cause, joints, parts } = group
  const count = new Set([...joints, ...parts].map(each => each.vehicle_id)).size
  const { known, caution } = causeWords(cause, shown.time_zone)
  return {
    id: `cause-${cause.id}`,
    heading: cause.what,
    aside: `${thingsWords(joints.length, parts.length)}, on ${countWord(count)} ${count === 1 ? 'vehicle' : 'vehicles'}. ${known}`,
    caution,
    table: table({
      columns: [
        column('Joint'),
        column('If it fails'),
        column('Vehicle'),
        column('Left', 'date'),
        column('Call'),
        column(''),
      ],
      rows: [...joints.map(doubt => jointRow(doubt, shown)), ...parts.map(part => partRow(part, shown))],
    }),
    actions: shown.may_settle ? actionsOf(ctx, group) : [],
  }
}

function jointRow(doubt: Doubt, shown: Shown): Row {
  const name = {
    text: words(link(`/bench/joints/${doubt.joint_id}`, doubt.joint_name)),
    notes: [
      whereWords(doubt, shown.time_zone),
      ...(doubt.waits_for_second_person === null ? [] : ['waits for a second person to settle it']),
    ],
  }
  return row(doubt, doubt.joint_name, [name, severityWords(doubt.severity)], `/in-doubt/joints/${doubt.id}`, shown)
}

function partRow(part: PartInDoubt, shown: Shown): Row {
  const name = { text: 'part fitted, no joint named', notes: [whereWords(part, shown.time_zone)] }
  return row(part, 'the part', [name, 'not known'], `/in-doubt/parts/${part.id}`, shown)
}

function row(each: Doubt | PartInDoubt, what: string, first: Cell[], settle: string, shown: Shown): Row {
  const vehicle = shown.found.vehicles.get(each.vehicle_id)!
  const about = `${what}, ${vehicle.title}`
  const call = { kind: 'link' as const, label: 'Note the call', href: `/in-doubt/calls/${each.work_order_id}`, about }
  return {
    cells: [
      ...first,
      vehicleWords(vehicle),
      leftWords(vehicle),
      { text: callWords(vehicle), notes: calledWords(shown.calls.get(each.id), shown.time_zone) },
      {
        actions: [call, ...(shown.may_settle ? [{ kind: 'link' as const, label: 'Settle', href: settle, about }] : [])],
      },
    ],
  }
}

/** So that a colleague does not call again. */
function calledWords(call: Call | undefined, timeZone: string): string[] {
  if (call === undefined) return []
  const by = call.by === null ? '' : `, by ${call.by}`
  return [`Last talk ${momentWords(call.at, timeZone)}${by}, ${inText(call.how)}: ${call.said}`]
}

/** Where the register keeps a tool's page. */
const PLACE_OF_TOOL = { wrench: 'wrenches', gauge: 'gauges' } as const

function actionsOf(ctx: Context, { cause, joints, parts }: DoubtGroup): Action[] {
  const atOnce = settledAtOnce(ctx, cause, joints)
  const isAll = atOnce.length === joints.length
  const { tool } = cause
  const canNarrow = tool?.kind === 'wrench' && !tool.was_dropped
  return [
    ...(atOnce.length + parts.length > 1
      ? [
          {
            kind: 'button' as const,
            label: isAll ? 'Settle all of them' : 'Settle those that need no check',
            href: `/in-doubt/causes/${cause.id}`,
          },
        ]
      : []),
    ...(canNarrow
      ? [
          {
            kind: 'link' as const,
            label: 'Only later ones are touched',
            href: `/calibrations/${cause.id}/doubted-since`,
          },
        ]
      : []),
    ...(tool === null
      ? []
      : [
          {
            kind: 'link' as const,
            label: capital(cause.because),
            href: `/tools/${PLACE_OF_TOOL[tool.kind]}/${tool.id}`,
          },
        ]),
  ]
}

function settledTable({ settled, vehicles }: InDoubt, timeZone: string) {
  return table({
    columns: [column('Settled', 'date'), column('Vehicle'), column('Joint'), column('How')],
    rows: settled.slice(0, SETTLED_SHOWN).map(each => settledRow(each, vehicles, timeZone)),
    empty: 'Nothing has been settled yet.',
  })
}

function settledRow({ doubt, by }: SettledDoubt, vehicles: InDoubt['vehicles'], timeZone: string): Row {
  const { settled } = doubt
  const joint =
    'joint_id' in doubt ? words(link(`/bench/joints/${doubt.joint_id}`, doubt.joint_name)) : 'part, no joint named'
  return {
    cells: [
      settled === null ? '' : dayWords(settled.at, timeZone),
      vehicleWords(vehicles.get(doubt.vehicle_id)!),
      { text: joint, notes: [doubt.because] },
      { text: settled?.how ?? '', notes: [settled?.note, by].flatMap(text => text ?? []) },
    ],
  }
}
