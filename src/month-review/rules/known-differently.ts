import { staysToDecide } from './to-decide.ts'

/** A figure of a month as it was issued, and as it would be worked out today. Money in minor units, null: not known. */
export interface KnownDifferently {
  what: string
  kind: 'count' | 'money'
  issued: number | null
  today: number | null
}

/** What is compared of a month's figures. */
export interface ComparedFigures {
  jobs: number
  losses: { count: number; cost_minor: number }
  charges: { net_minor: number | null; borne_minor: number | null }
  comebacks: {
    jobs_came_back: number
    cost_minor: number | null
    confirmed: readonly unknown[]
    ruled_out: readonly unknown[]
    waiting: readonly { later_order: { id: string } | null }[]
  }
}

const FIGURES: { what: string; kind: KnownDifferently['kind']; of(figures: ComparedFigures): number | null }[] = [
  { what: 'Jobs handed back', kind: 'count', of: figures => figures.jobs },
  { what: 'Charged, net', kind: 'money', of: figures => figures.charges.net_minor },
  { what: 'Borne by us', kind: 'money', of: figures => figures.charges.borne_minor },
  { what: 'Jobs that came back', kind: 'count', of: figures => figures.comebacks.jobs_came_back },
  { what: 'Returns confirmed', kind: 'count', of: figures => figures.comebacks.confirmed.length },
  { what: 'Returns ruled out', kind: 'count', of: figures => figures.comebacks.ruled_out.length },
  { what: 'Stays still to decide', kind: 'count', of: figures => staysToDecide(figures.comebacks.waiting) },
  { what: 'Work done twice', kind: 'count', of: figures => figures.losses.count },
  { what: 'Cost of the returns', kind: 'money', of: figures => figures.comebacks.cost_minor },
]

/** What is known differently today of a month that was issued: only figures of the month itself, and only those that moved. */
export function knownDifferently(issued: ComparedFigures, today: ComparedFigures): KnownDifferently[] {
  return FIGURES.map(({ what, kind, of }) => ({ what, kind, issued: of(issued), today: of(today) })).filter(
    figure => figure.issued !== figure.today,
  )
}
