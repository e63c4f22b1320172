import { addDays, daysBetween } from '../src/core/calendar.ts'
import type { RandomSource } from '../src/core/random.ts'

/** Why a vehicle comes: routine work, or something failed. */
export interface Coming {
  on: string
  operations: string[]
  symptom: string | null
  complaint: string
  /** The workshop bears it: its own belt did it. */
  we_bear: boolean
  /** What is found failed, and how. */
  failure: { component: string; mode: string; severity: 'safety' | 'breakdown' | 'nuisance' } | null
}

/** Work that others did before or between, known from an invoice or from what the owner says. */
export interface OthersWork {
  operation: string
  by: 'other' | 'owner'
  on: string | null
  exactness: 'day' | 'month' | 'year' | 'unknown'
  evidence: string
}

export interface Life {
  comings: Coming[]
  others: OthersWork[]
}

export interface Family {
  name: string
  variants: string[]
  count: number
  km_a_day: number
  /** Operations that are simply due, each so many times a year. */
  routine: [operation: string, aYear: number][]
  /** Components that fail by themselves, each so many times a year. */
  failures: [failure: string, aYear: number][]
}

interface FailureKind {
  component: string
  mode: string
  severity: 'safety' | 'breakdown' | 'nuisance'
  symptom: string
  complaint: string
  remedy: string
}

export const FAILURES: Record<string, FailureKind> = {
  bearing: {
    component: 'Rear wheel bearing',
    mode: 'noisy',
    severity: 'safety',
    symptom: 'Noise from a wheel',
    complaint: 'There is a humming from the back that grows with the speed.',
    remedy: 'Rear wheel bearing: replace',
  },
  seal: {
    component: 'Hub seal',
    mode: 'leaking',
    severity: 'breakdown',
    symptom: 'Oil on a wheel',
    complaint: 'The inside of the wheel is wet.',
    remedy: 'Hub seal: replace',
  },
  boot: {
    component: 'Axle shaft boot',
    mode: 'torn',
    severity: 'nuisance',
    symptom: 'Oil on a wheel',
    complaint: 'Grease is thrown about inside the wheel.',
    remedy: 'Axle shaft boot: replace',
  },
  disc: {
    component: 'Brake disc',
    mode: 'worn',
    severity: 'safety',
    symptom: 'Brakes judder',
    complaint: 'It shakes when I brake on the hill.',
    remedy: 'Brake disc: replace',
  },
  alternator: {
    component: 'Alternator',
    mode: 'does not charge',
    severity: 'breakdown',
    symptom: 'Does not charge',
    complaint: 'The red lamp stays on.',
    remedy: 'Alternator: replace',
  },
  battery: {
    component: 'Battery',
    mode: 'flat',
    severity: 'breakdown',
    symptom: 'Does not start',
    complaint: 'It only clicks in the morning.',
    remedy: 'Battery: replace',
  },
  starter: {
    component: 'Starter motor',
    mode: 'sticks',
    severity: 'breakdown',
    symptom: 'Does not start',
    complaint: 'It turns every third time.',
    remedy: 'Starter motor: refit',
  },
  ring: {
    component: 'Ring gear',
    mode: 'worn',
    severity: 'breakdown',
    symptom: 'Does not start',
    complaint: 'It grinds when it starts.',
    remedy: 'Ring gear: replace',
  },
  carburettor: {
    component: 'Carburettor gasket',
    mode: 'leaking',
    severity: 'breakdown',
    symptom: 'Runs unevenly',
    complaint: 'It hunts at idle and stalls at the lights.',
    remedy: 'Carburettor: clean',
  },
  cover: {
    component: 'Cam cover gasket',
    mode: 'leaking',
    severity: 'nuisance',
    symptom: 'Oil beneath the engine',
    complaint: 'There are drops under it in the morning.',
    remedy: 'Cam cover gasket: replace',
  },
  tensioner: {
    component: 'Cam chain tensioner',
    mode: 'worn',
    severity: 'breakdown',
    symptom: 'Rattle from the engine',
    complaint: 'It rattles when it is cold.',
    remedy: 'Cam chain tensioner: replace',
  },
  cable: {
    component: 'Clutch cable',
    mode: 'frayed',
    severity: 'breakdown',
    symptom: 'Clutch drags',
    complaint: 'It creeps with the clutch pulled.',
    remedy: 'Clutch cable: replace',
  },
}

/**
 * The workshop's vehicles. Planted: on the van a new final drive belt is often followed by a noisy rear wheel bearing (see
 * `afterBelt`). The decoy: the old Tramp 300 has everything more often than the others, so that its carburettor and its
 * clutch cable seem to go together over all vehicles, and do not within the family.
 */
export const FAMILIES: Family[] = [
  {
    name: 'Corvane Haulette B',
    variants: ['long', 'short'],
    count: 44,
    km_a_day: 68,
    routine: [
      ['Service, small', 0.9],
      ['Final drive belt: renew', 0.5],
      ['Front brake pads: replace', 0.45],
      ['Tyres: change', 0.4],
    ],
    failures: [
      ['bearing', 0.05],
      ['seal', 0.06],
      ['boot', 0.08],
      ['disc', 0.1],
      ['alternator', 0.14],
      ['battery', 0.1],
      ['starter', 0.07],
    ],
  },
  {
    name: 'Pikko Tramp 300',
    variants: [],
    count: 26,
    km_a_day: 14,
    routine: [
      ['Service, small', 0.6],
      ['Carburettor: clean', 0.9],
    ],
    failures: [
      ['cable', 0.75],
      ['carburettor', 0.4],
      ['cover', 0.3],
      ['tensioner', 0.15],
      ['battery', 0.25],
    ],
  },
  {
    name: 'Pikko Tramp 125',
    variants: [],
    count: 22,
    km_a_day: 19,
    routine: [
      ['Service, small', 0.8],
      ['Carburettor: clean', 0.1],
      ['Front brake pads: replace', 0.3],
    ],
    failures: [
      ['cable', 0.08],
      ['cover', 0.1],
      ['battery', 0.15],
      ['starter', 0.08],
      ['ring', 0.05],
    ],
  },
  {
    name: 'Ardeck 650 Twin',
    variants: [],
    count: 20,
    km_a_day: 24,
    routine: [
      ['Service, small', 0.9],
      ['Tyres: change', 0.5],
      ['Carburettor: clean', 0.12],
    ],
    failures: [
      ['tensioner', 0.2],
      ['cable', 0.08],
      ['alternator', 0.12],
      ['disc', 0.12],
      ['cover', 0.15],
    ],
  },
]

/** Of the bearings of vans with a new belt, so many in a hundred are noisy some weeks later: it was set too tight. */
const AFTER_BELT_PERCENT = 34

/** What happens to one vehicle between two days, drawn by chance from its family's habits. */
export function liveLife(family: Family, from: string, to: string, chance: RandomSource): Life {
  const days = daysBetween(from, to)
  const comings: Coming[] = []
  const others: OthersWork[] = []
  const eachTime = (aYear: number, happens: (on: string) => void) => {
    let day = exponential(chance, 365.25 / aYear)
    for (; day < days; day += 20 + exponential(chance, 365.25 / aYear)) happens(addDays(from, Math.floor(day)))
  }
  for (const [operation, aYear] of family.routine) {
    eachTime(aYear, on => {
      const elsewhere = chance.integer(100) < 22
      if (elsewhere) others.push(doneElsewhere(operation, on, chance))
      else
        comings.push({
          on,
          operations: [operation],
          symptom: null,
          complaint: `Due: ${operation.split(':')[0]!.toLowerCase()}.`,
          we_bear: false,
          failure: null,
        })
      if (operation === 'Final drive belt: renew' && chance.integer(100) < AFTER_BELT_PERCENT) {
        const noisyOn = addDays(on, 25 + Math.floor(exponential(chance, 60)))
        if (noisyOn < to) comings.push({ ...failing('bearing', noisyOn), we_bear: !elsewhere })
      }
    })
  }
  for (const [failure, aYear] of family.failures) eachTime(aYear, on => comings.push(failing(failure, on)))
  if (chance.integer(100) < 12)
    others.push({
      operation: 'Starter motor: refit',
      by: 'other',
      on: null,
      exactness: 'unknown',
      evidence: 'Fresh paint on its bolts; nobody knows when',
    })
  return { comings: comings.sort((one, other) => (one.on < other.on ? -1 : 1)), others }
}

function failing(key: string, on: string): Coming {
  const { component, mode, severity, symptom, complaint, remedy } = FAILURES[key]!
  return { on, operations: [remedy], symptom, complaint, we_bear: false, failure: { component, mode, severity } }
}

function doneElsewhere(operation: string, on: string, chance: RandomSource): OthersWork {
  const exactness = (['day', 'month', 'month', 'year'] as const)[chance.integer(4)]!
  return chance.integer(4) === 0
    ? { operation, by: 'owner', on, exactness: 'month', evidence: 'The owner says so' }
    : {
        operation,
        by: 'other',
        on,
        exactness,
        evidence: exactness === 'day' ? 'Invoice seen' : 'Sticker on the door post',
      }
}

function exponential(chance: RandomSource, mean: number): number {
  return -Math.log(1 - chance.uniform()) * mean
}
