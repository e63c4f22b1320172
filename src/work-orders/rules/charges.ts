import { type Charges, charges } from '../../core/charges.ts'
import { sumDecimals } from '../../core/decimal.ts'
import { sumMinor, timesMinor } from '../../core/money.ts'
import type { LineKind, OpeningBearer } from '../../core/vocabulary.ts'

/**
 * What an order is charged from. Ids grow with time, so "was there when the estimate was made" is a comparison of ids.
 * `step_ids` are access steps, with all that they need, as the job's plan pinned them.
 */
export interface ChargeFacts {
  jobs: readonly {
    id: string
    letter: string
    task: string
    hours: number
    voided: boolean
    step_ids: readonly string[]
  }[]
  steps: readonly { access_step_id: string; name: string; hours: number }[]
  /** In the order in which they happened. */
  openings: readonly { id: string; access_step_id: string; borne_by: OpeningBearer | null }[]
  part_lines: readonly {
    id: string
    job_id: string
    part_id: string
    text: string
    quantity: number
    price_minor: number
    /** Null while it stands. */
    removal_id: string | null
  }[]
  /** The newest version, or null when there is none. */
  estimate: { id: string; lines: readonly LineToCharge[]; discount_minor: number | null } | null
}

export interface LineToCharge {
  kind: LineKind
  job_id?: string
  part_id?: string
  text: string
  quantity: number
  unit_minor: number
  tax_bp: number
}

export interface Rates {
  labour_rate_minor: number
  tax_bp: number
}

/** A line as charged: `by` says whether the estimate's word or the book's holds for it. */
export interface ChargedLine extends LineToCharge {
  by: 'estimate' | 'book'
  line_minor: number
}

export interface OrderCharges extends Omit<Charges, 'line_minor'> {
  lines: ChargedLine[]
}

/**
 * What an order is charged, in minor units.
 *
 * The newest estimate's word holds for what it covers: every job and part line that stood when it was made, and later part
 * lines of a part that it names. Lines that name a job voided since fall away, and parts taken off since as far as they were
 * not put on again. Everything added since is charged by the
 * book: own hours of a job, access steps that no covered job needs (each once), and part lines at their price; so is every
 * step that was opened again since, unless we bear it. Without an estimate everything is charged by the book. A discount
 * never exceeds what the lines add up to.
 */
export function chargesOf(facts: ChargeFacts, rates: Rates): OrderCharges {
  const lines = [...estimatedLines(facts), ...bookLines(facts, rates)]
  const lineMinor = lines.map(line => timesMinor(line.quantity, line.unit_minor))
  const discount = Math.min(facts.estimate?.discount_minor ?? 0, sumMinor(lineMinor))
  const { line_minor, ...totals } = charges(lines, discount)
  return { ...totals, lines: lines.map((line, index) => ({ ...line, line_minor: line_minor[index]! })) }
}

function estimatedLines(facts: ChargeFacts): Omit<ChargedLine, 'line_minor'>[] {
  const isVoided = new Set(facts.jobs.filter(job => job.voided).map(job => job.id))
  const standing = (facts.estimate?.lines ?? []).filter(line => line.job_id === undefined || !isVoided.has(line.job_id))
  return withoutPartsGone(standing, facts).map(line => ({ ...line, by: 'estimate' }))
}

/** An estimate's lines less the parts that stood when it was made, were taken off since and not put on again. */
function withoutPartsGone(lines: readonly LineToCharge[], { estimate, part_lines, jobs }: ChargeFacts): LineToCharge[] {
  const standingIds = new Set(jobs.filter(job => !job.voided).map(job => job.id))
  const gone = new Map<string, number>()
  for (const { id, job_id, part_id, quantity, removal_id } of part_lines) {
    if (!standingIds.has(job_id)) continue
    const wasThere = estimate !== null && id < estimate.id
    const isThere = removal_id === null
    const stoodThen = wasThere && (isThere || removal_id > estimate.id)
    const less = stoodThen && !isThere ? quantity : !wasThere && isThere ? -quantity : 0
    gone.set(part_id, sumDecimals([gone.get(part_id) ?? 0, less]))
  }
  return lines.flatMap(line => {
    const less = line.part_id === undefined ? 0 : Math.min(line.quantity, Math.max(0, gone.get(line.part_id) ?? 0))
    if (line.part_id === undefined || less === 0) return [line]
    gone.set(line.part_id, sumDecimals([gone.get(line.part_id) ?? 0, -less]))
    return less === line.quantity ? [] : [{ ...line, quantity: sumDecimals([line.quantity, -less]) }]
  })
}

function bookLines(facts: ChargeFacts, rates: Rates): Omit<ChargedLine, 'line_minor'>[] {
  const { estimate } = facts
  const isCovered = (id: string) => estimate !== null && id < estimate.id
  const standing = facts.jobs.filter(job => !job.voided)
  const added = standing.filter(job => !isCovered(job.id))
  const coveredSteps = new Set(standing.filter(job => isCovered(job.id)).flatMap(job => job.step_ids))
  const addedSteps = new Set(added.flatMap(job => job.step_ids).filter(id => !coveredSteps.has(id)))
  const labour = (text: string, hours: number, jobId?: string) => ({
    by: 'book' as const,
    kind: 'labour' as const,
    ...(jobId !== undefined && { job_id: jobId }),
    text,
    quantity: hours,
    unit_minor: rates.labour_rate_minor,
    tax_bp: rates.tax_bp,
  })
  const stripDown = sumDecimals(facts.steps.filter(step => addedSteps.has(step.access_step_id)).map(step => step.hours))
  const again = openedAgain(facts)
    .filter(opening => opening.borne_by !== 'us')
    .filter(opening => addedSteps.has(opening.access_step_id) || !isCovered(opening.id))
  const namedParts = new Set(estimatedLines(facts).map(line => line.part_id))
  const standingIds = new Set(standing.map(job => job.id))
  return [
    ...added.map(job => labour(`${job.letter} ${job.task}`, job.hours, job.id)),
    labour(coveredSteps.size > 0 ? 'Further strip-down, once' : 'Strip-down, once', stripDown),
    ...again.map(opening => labour(`${opening.name}, opened again`, opening.hours)),
    ...facts.part_lines
      .filter(line => standingIds.has(line.job_id) && line.removal_id === null)
      .filter(line => !isCovered(line.id) && !namedParts.has(line.part_id))
      .map(line => ({
        by: 'book' as const,
        kind: 'part' as const,
        job_id: line.job_id,
        part_id: line.part_id,
        text: line.text,
        quantity: line.quantity,
        unit_minor: line.price_minor,
        tax_bp: rates.tax_bp,
      })),
  ].filter(line => line.quantity > 0)
}

/** Every opening but the first of each access step that a standing job needs, with the step's name and hours. */
export function openedAgain(facts: Pick<ChargeFacts, 'jobs' | 'steps' | 'openings'>) {
  const needed = new Set(facts.jobs.filter(job => !job.voided).flatMap(job => job.step_ids))
  const seen = new Set<string>()
  return facts.openings
    .filter(opening => needed.has(opening.access_step_id))
    .filter(opening => seen.has(opening.access_step_id) || !seen.add(opening.access_step_id))
    .flatMap(opening => {
      const step = facts.steps.find(candidate => candidate.access_step_id === opening.access_step_id)
      return step === undefined ? [] : [{ ...opening, name: step.name, hours: step.hours }]
    })
}

/**
 * Up to which total, tax included, the customer has said yes: the highest yes, since each names the whole and a later,
 * lower one does not take back what may have been done under an earlier. A yes without tax has the workshop's rate added.
 * Null while nobody has said yes.
 */
export function agreedOf(
  authorisations: readonly { amount_minor: number; includes_tax: boolean }[],
  taxBp: number,
): number | null {
  if (authorisations.length === 0) return null
  return Math.max(
    ...authorisations.map(({ amount_minor, includes_tax }) =>
      includes_tax ? amount_minor : amount_minor + timesMinor(taxBp, amount_minor, 10_000),
    ),
  )
}
