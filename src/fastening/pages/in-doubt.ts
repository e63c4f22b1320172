import { capital, counted, countWord } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'
import { inDoubtBriefly } from '../service/doubts-told.ts'
import { type DoubtedVehicle, type DoubtGroup, type InDoubt, inDoubt, type SettledDoubt } from '../service/in-doubt.ts'
import { maySettleAtOnce } from '../service/settle-doubts.ts'
import { causeWords } from './cause-words.ts'
import {
  callWords,
  dayWords,
  leftWords,
  SEVERITY_WORDS,
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
      const maySettle = ctx.actor?.role !== 'desk'
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
          groups: found.open.map(group => groupView(group, found, time_zone, maySettle)),
          calls: found.open.length === 0 ? null : callsTable(found),
          settled: settledTable(found, time_zone),
          more_settled: Math.max(0, found.settled.length - SETTLED_SHOWN),
        },
      }
    },
  })
}

function groupView(group: DoubtGroup, { vehicles }: InDoubt, timeZone: string, maySettle: boolean) {
  const { cause, joints, parts } = group
  const count = new Set([...joints, ...parts].map(each => each.vehicle_id)).size
  const { known, caution } = causeWords(cause, timeZone)
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
      rows: [
        ...joints.map(doubt => jointRow(doubt, vehicles.get(doubt.vehicle_id)!, timeZone, maySettle)),
        ...parts.map(part => partRow(part, vehicles.get(part.vehicle_id)!, timeZone, maySettle)),
      ],
    }),
    actions: actionsOf(group, maySettle),
  }
}

function jointRow(doubt: Doubt, vehicle: DoubtedVehicle, timeZone: string, maySettle: boolean): Row {
  return {
    cells: [
      {
        text: words(link(`/bench/joints/${doubt.joint_id}`, doubt.joint_name)),
        notes: [
          whereWords(doubt, timeZone),
          ...(doubt.waits_for_second_person === null ? [] : ['waits for a second person to settle it']),
        ],
      },
      severityWords(doubt.severity),
      ...vehicleCells(vehicle),
      settleCell(maySettle, `/in-doubt/joints/${doubt.id}`, `${doubt.joint_name}, ${vehicle.title}`),
    ],
  }
}

function partRow(part: PartInDoubt, vehicle: DoubtedVehicle, timeZone: string, maySettle: boolean): Row {
  return {
    cells: [
      { text: 'part fitted, no joint named', notes: [whereWords(part, timeZone)] },
      'not known',
      ...vehicleCells(vehicle),
      settleCell(maySettle, `/in-doubt/parts/${part.id}`, `the part, ${vehicle.title}`),
    ],
  }
}

const vehicleCells = (vehicle: DoubtedVehicle): Words[] => [
  vehicleWords(vehicle),
  leftWords(vehicle),
  callWords(vehicle),
]

function settleCell(maySettle: boolean, href: string, about: string): Row['cells'][number] {
  return maySettle ? { actions: [{ kind: 'link', label: 'Settle', href, about }] } : ''
}

/** Where the register keeps a tool's page. */
const PLACE_OF_TOOL = { wrench: 'wrenches', gauge: 'gauges' } as const

function actionsOf({ cause, joints, parts }: DoubtGroup, maySettle: boolean): Action[] {
  if (!maySettle) return []
  const { tool } = cause
  const canNarrow = tool?.kind === 'wrench' && !tool.was_dropped
  return [
    ...(maySettleAtOnce(cause) && joints.length + parts.length > 1
      ? [{ kind: 'button' as const, label: 'Settle all of them', href: `/in-doubt/causes/${cause.id}` }]
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

/** One line for each vehicle, with room to write who was reached, when, and what was said. */
function callsTable({ open, vehicles }: InDoubt) {
  const about = new Map<string, string[]>()
  for (const { cause, joints, parts } of open) {
    for (const { vehicle_id, joint_name, severity } of joints)
      note(about, vehicle_id, `${joint_name} (${SEVERITY_WORDS[severity].toLowerCase()}), ${cause.because}`)
    for (const { vehicle_id } of parts) note(about, vehicle_id, `part fitted, no joint named, ${cause.because}`)
  }
  return table({
    stacks: false,
    columns: [
      column('Call'),
      column('Vehicle'),
      column('About'),
      column('Left', 'date'),
      column('Date'),
      column('Who'),
      column('Said'),
    ],
    rows: [...about].map(([id, lines]) => {
      const vehicle = vehicles.get(id)!
      return {
        cells: [callWords(vehicle), vehicleWords(vehicle), lines.join('; '), leftWords(vehicle), '', '', ''],
      }
    }),
  })
}

function note(lines: Map<string, string[]>, vehicleId: string, line: string): void {
  const before = lines.get(vehicleId) ?? []
  if (!before.includes(line)) lines.set(vehicleId, [...before, line])
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
