import { namesOfPeople, settingsOf } from '../../../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../../../core/calendar.ts'
import { longDay } from '../../../../core/days.ts'
import { capital, counted, listed } from '../../../../core/words.ts'
import type { Context } from '../../../../platform/context.ts'
import { pageRead } from '../../../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../../../platform/http/pages.ts'
import { boltPattern } from '../../../../platform/pages/figures/bolt-pattern.ts'
import { qrCode } from '../../../../platform/pages/qr.ts'
import { plate, ref, words } from '../../../../platform/pages/words.ts'
import { type FasteningRecord, fasteningRecord } from '../../../service/fastening-record.ts'
import { jointInput } from './drawing.ts'
import { temporaryWarning } from './fasteners.ts'
import { jointFactsOnPaper, toolFactsOnPaper } from './record-facts.ts'
import { linesTable, notesOf } from './record-lines.ts'
import { signingView } from './signing.ts'

/** The fastening record: one joint on one sheet of paper, whole. */
export function fasteningRecordPage(pages: Pages): void {
  pageRead(pages, {
    url: '/joints/:id/record',
    handle: (ctx, { params, origin }) => recordPage(ctx, fasteningRecord(ctx, params.id), origin),
  })
}

function recordPage(ctx: Context, record: FasteningRecord, origin: string): PageAnswer {
  const { joint, vehicle } = record
  const settings = settingsOf(ctx)
  const isSafety = joint.row.revision.severity === 'safety'
  const people = namesOfPeople(ctx)
  const { id, name } = joint.row.joint
  const number = `${joint.row.order_number} ${joint.row.job.letter}`
  const frame = vehicle.vin ?? vehicle.frame_number
  const workers = [...new Set(joint.records.map(({ created_by }) => people.get(created_by ?? '') ?? 'somebody'))]
  const address = `${origin}/joints/${id}/record`
  return {
    template: 'hand-back/fastening-record',
    sheet: {
      title: `Fastening record ${number}: ${name}`,
      sheet_title: 'Fastening record',
      sheet_number: words(ref(joint.row.order_number), ` ${joint.row.job.letter}`),
      subject: words(
        ...(vehicle.plate === undefined ? [] : [plate(vehicle.plate), ' ']),
        [`${vehicle.family}${vehicle.variant === undefined ? '' : `, ${vehicle.variant}`}`, frame]
          .filter(each => each !== undefined)
          .join(' · '),
      ),
      dates: longDay(localDateOf(joint.records.at(-1)?.made_at ?? ctx.clock.now(), settings.time_zone)),
      nav: 'work-orders',
    },
    view: {
      facts: jointFactsOnPaper(record, settings),
      tool_facts: toolFactsOnPaper(record),
      heading: `${name}, ${joint.signed ? (isSafety ? 'signed twice' : 'signed') : 'not signed'}`,
      // by no name that a section of the page could take for its own: the stripe stands on the heading alone
      is_signed: joint.signed,
      is_signed_twice: joint.signed && isSafety,
      pattern: boltPattern(jointInput(record, false)),
      summary: [
        `${capital(record.sentence)}.`,
        ...(workers.length === 0
          ? []
          : [`Tightened by ${listed(workers)}; ${counted(joint.records.length, 'record')}.`]),
      ],
      temporary: temporaryWarning(record, people, settings.time_zone),
      doubts: record.doubts.filter(doubt => doubt.open).map(doubt => doubt.told),
      lines: linesTable(record, people, settings.time_zone),
      notes: notesOf(record, people, settings.time_zone),
      people: signingView(ctx, record, people, settings).people,
      qr: qrCode(address),
      address: `Live record: ${address.replace(/^https?:\/\//, '')}`,
      chain: chainWords(record, settings.time_zone),
      actions: [
        { kind: 'link', label: 'To the joint', href: `/bench/joints/${id}` },
        { kind: 'link', label: 'To the work order', href: `/work-orders/${joint.row.job.work_order_id}` },
      ],
    },
  }
}

function chainWords({ chain }: FasteningRecord, timeZone: string): string {
  const paper =
    'This paper says what wrench and gauge showed and who was there. It does not replace the maker’s manual.'
  if (chain === null) return paper
  const short = (hash: string) => hash.slice(0, 16).replace(/(.{4})(?=.)/g, '$1 ')
  const at = `${longDay(localDateOf(chain.at, timeZone))}, ${localTimeOf(chain.at, timeZone)}`
  return `Newest entry of this joint in the record chain: ${chain.seq}, ${short(chain.hash)}, of ${at}; the one before it: ${short(chain.previous_hash)}. ${paper}`
}
