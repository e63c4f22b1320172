import { sumMinor } from '../../core/money.ts'
import { countWord, inText } from '../../core/words.ts'
import { stripDown } from '../../platform/pages/figures/strip-down.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import type { ChargedLine, PlannedJob } from '../../work-orders/index.ts'
import { stripDownTree } from '../rules/strip-down.ts'
import type { OrderSheet } from '../service/order-sheet.ts'
import { type Pen, personOf, recordLink } from './pen.ts'

/** Jobs with their hours, money and where each stands; then what is charged beside them, and what it comes to. */
export function jobsTable(sheet: OrderSheet, pen: Pen): TableView {
  const { plan, charges } = sheet.standing
  const isHere = plan.hand_back === null
  const standing = new Set(plan.jobs.filter(job => job.voiding === null).map(job => job.id))
  const ofNoJob = charges.lines.filter(line => line.job_id === undefined || !standing.has(line.job_id))
  const all = (kinds: string[]) =>
    sumMinor(charges.lines.filter(line => kinds.includes(line.kind)).map(line => line.line_minor))
  const { hand_back } = plan
  const borne = hand_back?.borne_minor
    ? { amount_minor: hand_back.borne_minor, reason: hand_back.borne_reason ?? '' }
    : null
  return table({
    columns: [
      column('Job'),
      column('Hours', 'figure'),
      column('Labour', 'figure'),
      column('Parts and other', 'figure'),
      column('Where it stands'),
    ],
    rows: [...plan.jobs.map(job => jobRow(sheet, job, isHere, pen)), ...ofNoJob.map(line => lineRow(line, pen))],
    foot: [
      {
        cells: [
          'Together, before tax',
          pen.number(sheet.hours.hours_together),
          pen.money(all(['labour'])),
          pen.money(all(['part', 'other'])),
          '',
        ],
      },
      ...(charges.discount_minor > 0
        ? [{ cells: ['Discount, before tax', '', '', pen.money(-charges.discount_minor), ''] }]
        : []),
      ...(borne === null
        ? []
        : [{ cells: [`Borne by us, tax included: ${borne.reason}`, '', '', pen.money(-borne.amount_minor), ''] }]),
      {
        grand: true,
        cells: [
          `To pay, with ${charges.tax.map(rate => `${pen.percent(rate.tax_bp)} tax of ${pen.money(rate.tax_minor)}`).join(' and ') || 'no tax'}`,
          '',
          '',
          pen.money(charges.gross_minor),
          charges.has_yes ? `of ${pen.money(charges.agreed_minor)} agreed` : 'nobody has said yes yet',
        ],
      },
    ],
    empty: 'No job is written down yet.',
  })
}

function jobRow(sheet: OrderSheet, job: PlannedJob, isHere: boolean, pen: Pen): Row {
  const { charges, done_job_ids } = sheet.standing
  const own = charges.lines.filter(line => line.job_id === job.id && job.voiding === null)
  const sum = (kinds: string[]) => sumMinor(own.filter(line => kinds.includes(line.kind)).map(line => line.line_minor))
  const done = done_job_ids.has(job.id)
  return {
    signed: done,
    cells: [
      {
        text: words(link(`/bench/jobs/${job.id}`, `${job.letter} ${job.task}`)),
        notes: [
          ...job.part_lines.map(line => partNote(line, pen)),
          ...job.part_lines_off.map(line => partOffNote(line, sheet.people, pen)),
          ...(job.voiding === null ? job.joints.map(({ id, name }) => words(recordLink(id, name))) : []),
        ],
      },
      job.voiding === null ? pen.number(job.hours) : '–',
      job.voiding === null ? pen.money(sum(['labour'])) : '–',
      job.voiding === null ? pen.money(sum(['part', 'other'])) : '–',
      whereItStands(sheet, job, isHere && !done),
    ],
  }
}

function partNote(line: PlannedJob['part_lines'][number], pen: Pen): string {
  const batch = line.batch === null ? '' : `, batch ${line.batch}`
  return `${pen.number(line.quantity)} × ${line.part_number} ${line.part_name}, ${line.condition}${batch}`
}

function partOffNote(line: PlannedJob['part_lines'][number], people: OrderSheet['people'], pen: Pen): Words {
  const { removal } = line
  if (removal === null) return partNote(line, pen)
  const who = personOf(people, removal.created_by)
  const off = ` taken off again by ${who}, ${pen.moment(removal.created_at)}: ${removal.reason}`
  return words({ text: partNote(line, pen), struck: true }, off)
}

function whereItStands({ standing }: OrderSheet, job: PlannedJob, isOpen: boolean): string {
  if (job.voiding !== null) return `voided: ${inText(job.voiding.reason)}`
  if (!isOpen) return standing.done_job_ids.has(job.id) ? 'done' : ''
  const hrefs = [`/bench/jobs/${job.id}`, ...job.joints.map(joint => `/bench/joints/${joint.id}`)]
  const blocked = standing.blockers.filter(blocker => hrefs.includes(blocker.href))
  const [first, ...more] = blocked
  const text = first === undefined ? 'to do' : inText(first.sentence.replace(/\.$/, ''))
  return more.length === 0 ? text : `${text}, and ${more.length} more`
}

function lineRow(line: ChargedLine, pen: Pen): Row {
  const isLabour = line.kind === 'labour'
  return {
    cells: [
      line.text,
      isLabour ? pen.number(line.quantity) : '–',
      isLabour ? pen.money(line.line_minor) : '–',
      isLabour ? '–' : pen.money(line.line_minor),
      '',
    ],
  }
}

export interface StripDownView {
  drawings: ReturnType<typeof stripDown>
  caption: Words
  table: TableView
}

/** The strip-down that the jobs share, drawn, with its hours in a table; null when no job needs any. */
export function stripDownView({ standing, hours, order }: OrderSheet): StripDownView | null {
  const jobs = standing.plan.jobs.filter(job => job.voiding === null)
  const steps = standing.plan.steps.filter(step => jobs.some(job => step.job_ids.includes(job.id)))
  if (steps.length === 0) return null
  const bars = stripDownTree(steps, jobs)
  const together = `Together ${hours.hours_together} h; one at a time ${hours.hours_apart} h.`
  const note = (bar: (typeof bars)[number]) =>
    bar.kind === 'job'
      ? `${bar.hours} h`
      : `${bar.hours} h, ${bar.letters.length > 1 ? `once for ${bar.letters.join(' ')}` : `for ${bar.letters.join('')}`}`
  return {
    drawings: stripDown({
      id: 'strip-down',
      title: `Strip-down tree of work order ${order.number}`,
      description: `Each bar is as long as its hours. Filled bars are strip-down steps, done once; open bars are the jobs' own hours. ${bars.map(bar => `${bar.label} ${note(bar)}`).join('; ')}. ${together}`,
      bars: bars.map(bar => ({
        ...bar,
        note: note(bar),
        short_note: bar.kind === 'job' ? `${bar.hours} h` : `${bar.hours} h ${bar.letters.join('')}`,
      })),
    }),
    caption: `Length is hours. Filled: strip-down, counted once. Open: a job’s own hours. ${together}`,
    table: table({
      caption: 'The same in figures',
      columns: [column('Step'), column('Hours', 'figure'), column('For jobs'), column('Now')],
      rows: steps.map(step => ({
        cells: [
          step.name,
          String(step.hours),
          jobs
            .filter(job => step.job_ids.includes(job.id))
            .map(job => job.letter)
            .join(' '),
          stepNow(step),
        ],
      })),
    }),
  }
}

function stepNow({ is_open, times_opened }: { is_open: boolean; times_opened: number }): string {
  if (times_opened === 0) return 'not opened'
  const times = times_opened > 1 ? `, opened ${countWord(times_opened)} times` : ''
  return `${is_open ? 'open' : 'closed again'}${times}`
}
