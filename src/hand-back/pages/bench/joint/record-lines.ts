import { type Cell, column, table } from '../../../../platform/pages/table.ts'
import { type Piece, struck, words } from '../../../../platform/pages/words.ts'
import type { FasteningLine } from '../../../rules/fastening-lines.ts'
import type { FasteningRecord } from '../../../service/fastening-record.ts'
import { EVENT_WORDS, figure, measure, moment, nameIn, VERDICT_WORDS } from '../words.ts'
import { leavingWords, resumptionWords } from './left.ts'
import { readingWords } from './records.ts'

type RecordRow = FasteningRecord['joint']['records'][number]

/** Every fastener, every stage: also those taken out, loosened, slipped, and what was put right. */
export function linesTable(record: FasteningRecord, people: Map<string, string>, timeZone: string) {
  const { joint, lines, numbers } = record
  const { stages } = joint.row.revision
  const by = nameIn(people)
  return table({
    caption: 'What the wrench and the gauge showed, in tightening order',
    columns: [
      column('No.', 'reads', 'in order'),
      column('Position', 'figure', 'on the joint'),
      column('Fastener'),
      ...stages.map((stage, at) => column(`Stage ${at + 1}`, 'figure', measure(stage.kind, stage.target))),
      column('Verdict'),
      column('Chance it conforms', 'figure'),
    ],
    rows: lines.map(line => ({
      signed: line.now && joint.state.fasteners[line.position - 1]!.complete,
      cells: [
        String(numbers[line.position - 1]),
        String(line.position),
        fastenerWords(line),
        ...line.stages.map(said => stageCell(said, by, timeZone)),
        verdictWords(line, joint.state.fasteners[line.position - 1]!.complete),
        chanceWords(line.chance),
      ],
    })),
    empty: 'Nothing is recorded on this joint yet.',
    stacks: true,
  })
}

function fastenerWords({ fastener, taken_out, now }: FasteningLine<RecordRow>): string {
  const which = fastener === 1 ? 'first' : `no. ${fastener}, new`
  return taken_out ? `${which}, taken out` : now ? which : `${which}, loosened`
}

/** What the stage got, and under it who did it and when. Who put a record right since stands in the notes. */
function stageCell(
  said: FasteningLine<RecordRow>['stages'][number],
  by: ReturnType<typeof nameIn>,
  timeZone: string,
): Cell {
  const pieces = said.flatMap(({ record, put_right }, at): Piece[] => {
    const text = valueWords(record)
    return [...(at === 0 ? [] : [{ text: ' ' }]), put_right ? struck(text) : { text }]
  })
  const stands = said.filter(({ put_right }) => !put_right)
  return {
    text: words(...pieces),
    notes: stands.flatMap(({ record, first }) => [by(first.created_by), moment(record.made_at, timeZone)]),
  }
}

function valueWords({ event, value_si, basis, unit }: RecordRow): string {
  if (event !== null) return EVENT_WORDS[event]
  return `${figure(value_si ?? 0)}${unit !== 'deg' && basis === 'set' ? ' set' : ''}`
}

function verdictWords({ last, now, taken_out }: FasteningLine<RecordRow>, isComplete: boolean): string {
  if (last.event !== null) return EVENT_WORDS[last.event]
  const said = VERDICT_WORDS[last.verdict ?? 'unsure']
  const isGood = last.verdict === 'conforms' || last.verdict === 'as_set'
  if (now && isGood && !isComplete) return `${said} so far`
  return last.verdict === 'outside' && (taken_out || !now) ? `${said}: done again` : said
}

function chanceWords(chance: number | null): string {
  if (chance === null) return ''
  if (chance > 0.99) return '>99 %'
  return chance < 0.01 ? '<1 %' : `${Math.round(100 * chance)} %`
}

/** "from 36 N·m: outside its limits to 26 N·m: conforms", and on which other fastener, if it was there. */
function changeWords(sheet: FasteningRecord, old: RecordRow, record: RecordRow): string {
  const [was, is] = [readingWords(sheet, old), readingWords(sheet, record)]
  if (old.position === record.position) return `from ${was} to ${is}`
  const where = `it was on fastener ${sheet.numbers[record.position - 1]}`
  return was === is ? `from ${was}: ${where}` : `from ${was} to ${is}: ${where}`
}

/** What else happened to the joint, in sentences, in the order of their kind. */
export function notesOf(sheet: FasteningRecord, people: Map<string, string>, timeZone: string): string[] {
  const { joint, numbers } = sheet
  const by = nameIn(people)
  const where = (record: RecordRow) => `Fastener ${numbers[record.position - 1]}, stage ${record.stage}`
  const byId = new Map(joint.records.map(record => [record.id, record]))
  return [
    ...joint.records.flatMap(record => {
      const old = record.supersedes_id === null ? undefined : byId.get(record.supersedes_id)
      if (old === undefined) return []
      const who = `by ${by(record.created_by)}, ${moment(record.created_at, timeZone)}: ${record.reason}.`
      return [`${where(old)}: put right ${changeWords(sheet, old, record)}, ${who}`]
    }),
    ...joint.records
      .filter(record => record.out_of_order_reason !== null)
      .map(record => `${where(record)}, out of its turn: ${record.out_of_order_reason}.`),
    ...joint.leavings.map(leaving =>
      [leavingWords(sheet, leaving, people, timeZone), resumptionWords(leaving, people, timeZone)].join(' ').trim(),
    ),
    ...joint.temporary_uses.map(
      use => `Old fasteners put in for a time by ${by(use.created_by)}, ${moment(use.at, timeZone)}: ${use.reason}.`,
    ),
    ...joint.inspections.map(
      look =>
        `Fasteners looked at by ${by(look.created_by)}, ${moment(look.created_at, timeZone)}: ${look.fit ? 'fit for use again' : 'not fit'}${look.note === null ? '' : `, ${look.note}`}.`,
    ),
    ...sheet.doubts.filter(doubt => !doubt.open).map(doubt => doubt.told),
  ]
}
