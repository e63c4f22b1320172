import { longDay, shortDay } from '../../core/days.ts'
import { fromSi } from '../../core/quantities.ts'
import type { OdometerUnit } from '../../core/vocabulary.ts'
import { distanceInWords } from '../../core/words.ts'
import type { Drawing } from '../../platform/pages/figures/drawing.ts'
import { timeLine } from '../../platform/pages/figures/time-line.ts'
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

/** The time line; null while nothing is dated. */
export function lifeFigure(sheet: VehicleSheet, today: string): { drawings: Drawing[]; caption: string } | null {
  const { vehicle, life, arcs } = sheet
  const numbered = life.filter(each => each.number !== null)
  const drawn = numbered.filter((each, place) => each.event.event === 'in_service' || place >= numbered.length - DRAWN)
  if (drawn.length === 0) return null
  const numbers = new Set(drawn.map(each => each.number))
  const shown = arcs.filter(arc => numbers.has(arc.from) && numbers.has(arc.to))
  const unit = vehicle.odometer_unit
  const older = numbered.length - drawn.length
  return {
    drawings: timeLine({
      id: 'life',
      title: `Life of ${titleOf(vehicle)} by date and by distance`,
      description: `${drawn.map(each => `${each.number}: ${plainWhat(each)}, ${longDay(each.event.date ?? '')}`).join('; ')}. ${shown.map(arc => `${arc.is_confirmed ? 'A solid' : 'A dashed'} arc joins ${arc.from} to ${arc.to}.`).join(' ')}`,
      unit,
      until: today,
      events: drawn.map(each => toDraw(each, unit)),
      arcs: shown,
    }),
    caption: older === 0 ? CAPTION : `${CAPTION} The ${older} oldest stand in the table only.`,
  }
}

function toDraw(told: Told, unit: OdometerUnit): TimeLineEvent {
  const { event, number, distance } = told
  const km = distance === null ? 'distance unknown' : distanceInWords(distance, unit)
  const byOthers = event.event === 'work' && event.by !== 'us'
  const who = event.by === 'owner' ? 'the owner' : 'others'
  return {
    number: number ?? 0,
    on: event.date ?? '',
    distance: distance === null ? null : fromSi(distance, unit),
    by: event.event === 'in_service' ? 'start' : byOthers ? 'others' : 'us',
    is_failure: event.event === 'failure',
    label: shortened(plainWhat(told)),
    note: byOthers ? `${who}, ${km}` : `${shortDay(event.date ?? '')}, ${km}`,
  }
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
        told.distance === null ? '–' : distanceInWords(told.distance, sheet.vehicle.odometer_unit),
        byWords(told.event),
        { text: whatWords(sheet, told), notes: [...notes(told.event), ...recordsOf(sheet, told.event)] },
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

/** What was fastened in that job, each with its record. */
function recordsOf({ joints }: VehicleSheet, { record_id }: VehicleEvent): Words[] {
  return (joints.get(record_id) ?? []).map(({ id, name }) => words(recordLink(id, name)))
}

function followWords({ arcs }: VehicleSheet, { number, event }: Told): Words {
  if (event.event === 'seen' || event.event === 'in_service') return ''
  if (number === null) return 'cannot be placed on the line'
  const before = arcs.find(arc => arc.to === number)
  const after = arcs.filter(arc => arc.from === number)
  const parts: (string | Piece)[] = []
  if (before?.is_confirmed)
    parts.push(event.caused_by === null ? `comeback of ${before.from}` : `caused by ${before.from}, says a finding`)
  if (before?.is_confirmed === false)
    parts.push(`often follows work as ${before.from}: `, link('/recurring', 'the numbers'))
  for (const arc of after)
    parts.push(`${parts.length > 0 ? '; ' : ''}${arc.is_confirmed ? 'followed by' : 'often followed by'} ${arc.to}`)
  return parts.length === 0 ? 'nothing known' : words(...parts)
}
