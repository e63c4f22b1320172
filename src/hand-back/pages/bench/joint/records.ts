import { column, table } from '../../../../platform/pages/table.ts'
import { link, struck, words } from '../../../../platform/pages/words.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { asRead, EVENT_WORDS, measure, moment, nameIn, VERDICT_WORDS } from '../words.ts'

type RecordRow = JointAtBench['joint']['records'][number]

/** How many records the bench shows before it is asked for all. */
export const NEWEST = 6

/** "26.8 lbf·ft = 36.34 N·m measured: conforms": as it was read off, as it is kept, and what it is worth. */
export function readingWords({ joint }: Pick<JointAtBench, 'joint'>, record: RecordRow): string {
  if (record.withdrawn) return 'not done'
  if (record.event !== null) return EVENT_WORDS[record.event]
  const kind = joint.row.revision.stages[record.stage - 1]!.kind
  const inSi = measure(kind, record.value_si ?? 0)
  const read = record.value === null || record.unit === null ? inSi : asRead(record.value, record.unit)
  const isPlain = record.adapter_id === null && (record.unit === 'N.m' || record.unit === 'deg')
  const basis = record.basis === 'set' ? ' set' : ''
  const verdict = VERDICT_WORDS[record.verdict ?? 'unsure']
  return `${isPlain ? read : `${read}, ${inSi} at the joint`}${record.verdict === 'as_set' ? '' : basis}: ${verdict}`
}

/** "fastener 3, stage 2: 36.34 N·m: conforms, 4 Nov 2031, 14:36". */
export function recordWords(sheet: JointAtBench, record: RecordRow, timeZone: string): string {
  const where = `fastener ${sheet.numbers[record.position - 1]}, stage ${record.stage}`
  return `${where}: ${readingWords(sheet, record)}, ${moment(record.made_at, timeZone)}`
}

/** The newest records of the joint; each that stands can be put right, and what was put right stays, struck through. */
export function recordsTable(sheet: JointAtBench, people: Map<string, string>, timeZone: string, most: number) {
  const { joint, numbers } = sheet
  const rightedBy = new Map(joint.records.map(record => [record.supersedes_id, record]))
  const nameOf = nameIn(people)
  return table({
    stacks: false,
    columns: [column('Fastener'), column('Recorded'), column('')],
    rows: joint.records
      .toReversed()
      .slice(0, most)
      .map(record => {
        const righted = rightedBy.get(record.id)
        const said = readingWords(sheet, record)
        const notes = [
          `${moment(record.made_at, timeZone)}, ${nameOf(record.created_by)}`,
          ...(righted === undefined ? [] : [`put right by ${nameOf(righted.created_by)}: ${righted.reason ?? ''}`]),
          ...(record.supersedes_id === null ? [] : [`put right: ${record.reason ?? ''}`]),
          ...(record.out_of_order_reason === null ? [] : [record.out_of_order_reason]),
          ...(record.wrench_note === null ? [] : [`wrench in no register: ${record.wrench_note}`]),
        ]
        const again = record.fastener > 1 ? ` (no. ${record.fastener})` : ''
        return {
          cells: [
            `${numbers[record.position - 1]}${again}, stage ${record.stage}`,
            { text: righted === undefined ? said : words(struck(said)), notes },
            righted === undefined
              ? words(link(`/bench/joints/${joint.row.joint.id}/records/${record.id}`, 'Put it right'))
              : '',
          ],
        }
      }),
    empty: 'Nothing is recorded yet.',
  })
}
