import { longDay, shortDay } from '../../core/days.ts'
import { fromSi } from '../../core/quantities.ts'
import { distanceInWords } from '../../core/words.ts'
import type { Drawing } from '../../platform/pages/figures/drawing.ts'
import { isBroken, timeLine } from '../../platform/pages/figures/time-line.ts'
import type { TimeLineEvent } from '../../platform/pages/figures/time-line-parts.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, type Piece, ref, type Words, words } from '../../platform/pages/words.ts'
import type { ToldEvent } from '../rules/life.ts'
import { DOER_WORDS } from '../rules/words.ts'
import type { VehicleEvent, VehicleSheet } from '../service/vehicle-sheet.ts'
import { recordLink, titleOf } from './pen.ts'

type Told = ToldEvent<VehicleEvent>

/** More labels than this cannot be told apart on one line; the table has all of them. */
const DRAWN = 24

const CAPTION =
  'Each event stands on both lines, joined by a thread; where the threads spread towards the lower line it was driven much, where they close it was driven little. Mark up: our work. Mark down: others’. Cross: a failure. Solid arc: a person says what caused it. Dashed arc: only the numbers suggest it.'

const REPLACED =
  'An instrument was replaced: the lower line counts on from what the old one showed last, the words say what was read.'

const BROKEN = 'A line is broken where nothing is known of it: what stands before the break is not to scale.'

/** From so many events on labels may find no room. */
const CROWDED = 8
const LEFT_OUT = 'A label that would cover another is shortened to its number or left out: the table has them all.'

/** The time line; null while nothing is dated. */
export function lifeFigure(sheet: VehicleSheet, today: string): { drawings: Drawing[]; caption: string } | null {
  const { vehicle, life, arcs } = sheet
  const numbered = life.filter(each => each.number !== null)
  const drawn = numbered.filter((each, place) => each.event.event === 'in_service' || place >= numbered.length - DRAWN)
  if (drawn.length === 0) return null
  const numbers = new Set(drawn.map(each => each.number))
  const shown = arcs.filter(arc => numbers.has(arc.from) && numbers.has(arc.to))
  const older = numbered.length - drawn.length
  const input = {
    id: 'life',
    title: `Life of ${titleOf(vehicle)} by date and by distance`,
    description: `${drawn.map(each => `${each.number}: ${plainWhat(each)}, ${longDay(each.event.date ?? '')}`).join('; ')}. ${shown.map(arc => `${arc.is_confirmed ? 'A solid' : 'A dashed'} arc joins ${arc.from} to ${arc.to}.`).join(' ')}`,
    unit: vehicle.odometer_unit,
    until: today,
    farthest: farthestRead(sheet),
    events: drawn.map(each => toDraw(sheet, each)),
    arcs: shown,
  }
  return {
    drawings: timeLine(input),
    caption: [
      CAPTION,
      ...(sheet.driven.was_replaced ? [REPLACED] : []),
      ...(isBroken(input) ? [BROKEN] : []),
      ...(drawn.length > CROWDED ? [LEFT_OUT] : []),
      ...(older === 0 ? [] : [`The ${older} oldest stand in the table only.`]),
    ].join(' '),
  }
}

/** How far it had been driven when it was last read, which may be after the last event. */
function farthestRead({ odometer, driven, vehicle }: VehicleSheet): number {
  if (odometer === null) return 0
  return fromSi(driven.drivenOn(odometer.on)?.km ?? odometer.distance_km, vehicle.odometer_unit)
}

function toDraw(sheet: VehicleSheet, told: Told): TimeLineEvent {
  const { event, number } = told
  const { odometer_unit: unit } = sheet.vehicle
  const km = distanceWords(sheet, told) ?? 'distance unknown'
  const driven = event.date === null ? null : sheet.driven.drivenOn(event.date)
  const byOthers = event.event === 'work' && event.by !== 'us'
  const who = event.by === 'owner' ? 'the owner' : 'others'
  return {
    number: number ?? 0,
    on: event.date ?? '',
    distance: driven === null ? null : fromSi(driven.km, unit),
    by: event.event === 'in_service' ? 'start' : byOthers ? 'others' : 'us',
    is_failure: event.event === 'failure',
    label: shortened(plainWhat(told)),
    note: byOthers ? `${who}, ${km}` : `${shortDay(event.date ?? '')}, ${km}`,
  }
}

/** What was read; where nobody read it, about what it must have been; null where nobody can say. */
function distanceWords({ driven, vehicle }: VehicleSheet, { event, distance }: Told): string | null {
  if (distance !== null) return distanceInWords(distance, vehicle.odometer_unit)
  const known = event.date === null ? null : driven.drivenOn(event.date)
  if (known === null) return null
  const words = distanceInWords(known.is_estimated ? Math.round(known.km / 100) * 100 : known.km, vehicle.odometer_unit)
  return known.is_estimated ? `about ${words}` : words
}

function shortened(text: string): string {
  return text.length <= 28 ? text : `${text.slice(0, 27).trimEnd()}…`
}

function plainWhat({ event }: Told): string {
  if (event.event === 'in_service') return event.operation ?? 'In service'
  if (event.event === 'seen') return 'Odometer read'
  if (event.event === 'work') return event.operation ?? 'Work'
  return [event.component ?? 'Failure', event.failure_mode].filter(Boolean).join(': ')
}

/** Every event, newest first; what nobody can date stands last. */
export function lifeTable(sheet: VehicleSheet): TableView {
  return table({
    columns: [
      column('', 'figure'),
      column('Date', 'date'),
      column('Distance', 'figure'),
      column('By'),
      column('What'),
      column('Follows, followed by'),
    ],
    rows: sheet.life.toReversed().map(told => ({
      cells: [
        told.number === null ? '–' : String(told.number),
        dateWords(told.event),
        distanceWords(sheet, told) ?? '–',
        byWords(told.event),
        {
          text: whatWords(sheet, told),
          notes: [...notes(told.event), ...backwardsWords(sheet, told), ...recordsOf(sheet, told.event)],
        },
        followWords(sheet, told),
      ],
    })),
    empty: 'Nothing is known of it yet.',
  })
}

function dateWords({ date, exactness }: VehicleEvent): string {
  if (date === null) return 'date unknown'
  if (exactness === 'year') return date.slice(0, 4)
  return exactness === 'month' ? shortDay(date).replace(/^\d+ /, '') : shortDay(date)
}

function byWords({ event, by, is_finding }: VehicleEvent): string {
  if (by !== null) return DOER_WORDS[by]
  return is_finding ? 'us' : event === 'work' ? 'unknown' : '–'
}

function whatWords({ order_numbers }: VehicleSheet, told: Told): Words {
  const { order_id } = told.event
  const number = order_id === null ? undefined : order_numbers.get(order_id)
  const text = told.event.event === 'failure' ? `${plainWhat(told)}: found` : plainWhat(told)
  return number === undefined ? text : words(`${text}, `, link(`/work-orders/${order_id}`, ref(number)))
}

function notes({ symptom, note }: VehicleEvent): string[] {
  return [symptom === null ? '' : `symptom: ${symptom}`, note ?? ''].filter(text => text !== '')
}

/** A reading that cannot be right, unless somebody says that the display was replaced. */
function backwardsWords({ driven }: VehicleSheet, { event: { date }, distance }: Told): string[] {
  if (date === null || distance === null || !driven.runsBackwards(date, distance)) return []
  return ['lower than a reading before it: read again, or say that the instrument was replaced']
}

/** What was fastened in that job, each with its record. */
function recordsOf({ joints }: VehicleSheet, { record_id }: VehicleEvent): Words[] {
  return (joints.get(record_id) ?? []).map(({ id, name }) => words(recordLink(id, name)))
}

function followWords({ arcs }: VehicleSheet, { number, event }: Told): Words {
  if (event.event === 'seen' || event.event === 'in_service') return ''
  if (number === null) return 'cannot be placed on the line'
  const before = arcs.filter(arc => arc.to === number).map(arc => beforeWords(arc, event))
  const after = arcs
    .filter(arc => arc.from === number)
    .map(arc => [`${arc.is_confirmed ? 'followed by' : 'often followed by'} ${arc.to}`])
  const all = [...before, ...after]
  if (all.length === 0) return 'nothing known'
  return words(...all.flatMap((parts, place) => (place === 0 ? parts : ['; ', ...parts])))
}

function beforeWords(arc: VehicleSheet['arcs'][number], { caused_by }: VehicleEvent): (string | Piece)[] {
  const { from, is_confirmed, decided_at } = arc
  if (!is_confirmed) return [`often follows work as ${from}: `, link('/recurring?any_time=true', 'the numbers')]
  if (decided_at !== undefined) return [`comeback of ${from}, `, link(decided_at, 'confirmed')]
  return [caused_by === null ? `comeback of ${from}` : `caused by ${from}, says a finding`]
}
