import { daysBetween } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import { link, type Piece, ref, words } from '../../platform/pages/words.ts'
import type { DecidedComeback, VehicleComebacks } from '../service/vehicle-comebacks.ts'
import type { SentenceView } from './flag-sentences.ts'
import type { Pen } from './pen.ts'

/** What came back on a vehicle, each in a sentence: what waits to be decided first. */
export function comebackSentences({ decided, suspected }: VehicleComebacks, pen: Pen): SentenceView[] {
  return [
    ...suspected.map(({ sentence, reasons, href }) => ({
      ...{ word: 'Suspected', text: sentence, hurts: false, foremost: false },
      why: words(`${reasons.map(each => each.sentence).join(' ')} `, link(href, 'Not decided yet')),
    })),
    ...decided.map(one => decidedSentence(one, pen)),
  ]
}

function decidedSentence({ about, job, stay, by, href }: DecidedComeback, pen: Pen): SentenceView {
  const took_in = pen.dayOf(stay.created_at)
  const days = daysBetween(job.handed_back_on, took_in)
  const after = days === 0 ? 'the same day as' : `${counted(days, 'day')} after`
  const isOurs = about.decision === 'confirmed'
  const causes = about.root_cause.length > 0 ? about.root_cause : [about.why]
  const who = by === null ? '' : `, ${by}`
  return {
    ...{ word: isOurs ? 'Comeback' : 'Ruled out', hurts: false, foremost: false },
    text: words(
      `Came in on ${shortDay(took_in)} (`,
      orderLink(stay.id, stay.number),
      `) ${after} “${job.task}” (`,
      job.order_id === null || job.order_number === null
        ? 'imported history'
        : orderLink(job.order_id, job.order_number),
      isOurs ? '): a comeback of it.' : '): no comeback of it.',
    ),
    why: words(
      `${causes.join('; ').replace(/\.$/, '')}. ${shortDay(pen.dayOf(Date.parse(about.created_at)))}${who}. `,
      link(href, 'The decision'),
    ),
  }
}

function orderLink(id: string, number: string): Piece {
  return link(`/work-orders/${id}`, ref(number))
}
