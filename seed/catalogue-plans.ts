/** What the workshop's catalogue says: symptoms, components, strip-down, operations and their parts. */

export const SYMPTOMS = [
  'Noise from a wheel',
  'Brakes judder',
  'Does not charge',
  'Does not start',
  'Runs unevenly',
  'Oil beneath the engine',
  'Oil on a wheel',
  'Clutch drags',
  'Rattle from the engine',
  'Pulls to one side',
]

type Component = [
  name: string,
  severity: 'safety' | 'breakdown' | 'nuisance',
  causes: string[],
  minutes: number,
  /** `behind` is the strip-down that checking it takes. */
  more?: { makes_safe?: boolean; caution?: string; behind?: string },
]

const NO_ROAD_TEST = 'No road test on a brake complaint before the brakes have been looked at.'

export const COMPONENTS: Component[] = [
  ['Tyres', 'safety', ['Noise from a wheel', 'Pulls to one side'], 6, { makes_safe: true }],
  ['Rear wheel bearing', 'safety', ['Noise from a wheel'], 12],
  ['Final drive belt', 'breakdown', ['Noise from a wheel'], 8],
  ['Hub seal', 'breakdown', ['Oil on a wheel'], 5],
  ['Axle shaft boot', 'nuisance', ['Oil on a wheel'], 5],
  ['Brake disc', 'safety', ['Brakes judder', 'Noise from a wheel'], 15, { caution: NO_ROAD_TEST, behind: 'Wheel off' }],
  ['Brake hose', 'safety', ['Pulls to one side', 'Brakes judder'], 4, { caution: NO_ROAD_TEST }],
  ['Wheel speed ring', 'nuisance', [], 4],
  ['Carrier bush', 'nuisance', ['Pulls to one side'], 6],
  ['Alternator', 'breakdown', ['Does not charge'], 10],
  ['Alternator belt', 'breakdown', ['Does not charge'], 5],
  ['Battery', 'breakdown', ['Does not start', 'Does not charge'], 5],
  ['Starter motor', 'breakdown', ['Does not start'], 10],
  ['Ring gear', 'breakdown', ['Does not start'], 15],
  ['Carburettor gasket', 'breakdown', ['Runs unevenly'], 10],
  ['Cam cover gasket', 'nuisance', ['Oil beneath the engine'], 8],
  [
    'Cam chain tensioner',
    'breakdown',
    ['Rattle from the engine'],
    12,
    { caution: 'No cranking: where the chain has jumped, valves may touch pistons.' },
  ],
  ['Clutch cable', 'breakdown', ['Clutch drags'], 4],
]

type Step = [name: string, hours: number, needs: string[], exposes: string[], disturbs: string[]]

export const STEPS: Step[] = [
  ['Wheel off', 0.3, [], ['Tyres', 'Brake disc'], []],
  [
    'Belt guard off',
    0.3,
    ['Wheel off'],
    ['Final drive belt', 'Axle shaft boot'],
    ['Rear wheel bearing', 'Final drive belt'],
  ],
  ['Brake carrier aside', 0.4, ['Wheel off'], ['Brake hose'], ['Brake hose']],
  ['Axle shaft out', 0.9, ['Brake carrier aside'], ['Hub seal'], ['Axle shaft boot', 'Hub seal']],
  ['Hub carrier out', 1.1, ['Axle shaft out'], ['Wheel speed ring', 'Carrier bush'], ['Wheel speed ring']],
  ['Drive flange and hub off', 0.7, ['Hub carrier out'], ['Rear wheel bearing'], ['Rear wheel bearing']],
  ['Engine cover up', 0.2, [], ['Alternator belt'], ['Alternator belt']],
  ['Tank off', 0.3, [], [], []],
  ['Cam cover off', 0.5, ['Tank off'], ['Cam chain tensioner'], ['Cam cover gasket', 'Carburettor gasket']],
]

interface OperationPlan {
  name: string
  hours: number
  steps?: string[]
  joints?: { name: string; procedure: string; behind?: string }[]
  looks?: { component: string; severity: 'safety' | 'breakdown' | 'nuisance'; behind?: string; minutes: number }[]
  checks?: string[]
  marks?: { text: string; behind?: string; before?: string; photo?: boolean }[]
  tools?: { tool: string; count?: number; for?: string; before?: string }[]
  turnsEngine?: boolean
  sound?: boolean
  days?: number
  /** Number, name, quantity, cost and price in cents, for one use only. */
  parts?: [number: string, name: string, quantity: number, cost: number, price: number, singleUse?: boolean][]
}

export const OPERATIONS: OperationPlan[] = [
  {
    name: 'Final drive belt: renew',
    hours: 0.5,
    steps: ['Belt guard off'],
    joints: [{ name: 'Tensioner arm', procedure: 'CH-B-TA', behind: 'Belt guard off' }],
    looks: [{ component: 'Axle shaft boot', severity: 'nuisance', behind: 'Belt guard off', minutes: 4 }],
    checks: ['Belt note measured, 62 Hz'],
    sound: true,
    parts: [['CB-1140', 'Final drive belt', 1, 5800, 8900]],
  },
  {
    name: 'Rear wheel bearing: replace',
    hours: 1,
    steps: ['Drive flange and hub off'],
    joints: [{ name: 'Drive flange to rear hub', procedure: 'CH-B-RH', behind: 'Hub carrier out' }],
    looks: [
      { component: 'Brake hose', severity: 'safety', behind: 'Brake carrier aside', minutes: 4 },
      { component: 'Hub seal', severity: 'breakdown', behind: 'Axle shaft out', minutes: 5 },
    ],
    checks: ['Road test above forty, no hum'],
    marks: [{ text: 'Hub carrier to its arm, with the paint pen', before: 'Hub carrier out' }],
    tools: [
      { tool: 'Hub holding plate no. 3', for: 'Hub carrier out', before: 'Hub carrier out' },
      { tool: 'Brake hose plug', count: 2, for: 'Brake carrier aside', before: 'Brake carrier aside' },
    ],
    sound: true,
    parts: [
      ['HB-2040', 'Rear wheel bearing', 1, 4400, 7100],
      ['HB-2047', 'Flange bolt', 6, 90, 180, true],
    ],
  },
  {
    name: 'Axle shaft boot: replace',
    hours: 0.6,
    steps: ['Axle shaft out'],
    checks: ['Turned by hand, boot runs free'],
    parts: [['AX-310', 'Axle shaft boot', 1, 2600, 4650]],
  },
  {
    name: 'Hub seal: replace',
    hours: 0.3,
    steps: ['Hub carrier out'],
    checks: ['No oil after the road test'],
    parts: [['HS-118', 'Hub seal', 1, 900, 1720]],
  },
  {
    name: 'Front brake pads: replace',
    hours: 0.8,
    steps: ['Wheel off'],
    joints: [{ name: 'Caliper to carrier', procedure: 'CP-FB', behind: 'Wheel off' }],
    looks: [{ component: 'Brake disc', severity: 'safety', behind: 'Wheel off', minutes: 5 }],
    checks: ['Pedal firm, brakes tested on the yard'],
    parts: [['BP-77', 'Brake pads, front', 1, 2900, 5200]],
  },
  {
    name: 'Brake disc: replace',
    hours: 0.9,
    steps: ['Wheel off'],
    checks: ['Brakes tested on the yard'],
    parts: [['BD-81', 'Brake disc', 2, 3600, 6100]],
  },
  {
    name: 'Service, small',
    hours: 1.2,
    looks: [{ component: 'Tyres', severity: 'safety', minutes: 5 }],
    checks: ['Oil level'],
    parts: [['OF-12', 'Oil filter', 1, 700, 1450]],
  },
  {
    name: 'Alternator: replace',
    hours: 0.9,
    steps: ['Engine cover up'],
    checks: ['Charges at idle'],
    parts: [['AL-600', 'Alternator', 1, 14200, 21900]],
  },
  {
    name: 'Alternator belt: replace',
    hours: 0.5,
    steps: ['Engine cover up'],
    parts: [['AB-61', 'Alternator belt', 1, 1100, 2300]],
  },
  { name: 'Battery: replace', hours: 0.3, parts: [['BT-44', 'Battery', 1, 6200, 9800]] },
  { name: 'Starter motor: refit', hours: 1.1, parts: [['SM-09', 'Starter motor', 1, 9800, 15900]] },
  { name: 'Ring gear: replace', hours: 3.4, parts: [['RG-15', 'Ring gear', 1, 8800, 13900]] },
  {
    name: 'Carburettor: clean',
    hours: 1.1,
    steps: ['Tank off'],
    checks: ['Idles evenly'],
    parts: [['CG-21', 'Carburettor gasket', 1, 450, 980]],
  },
  {
    name: 'Cam cover gasket: replace',
    hours: 0.4,
    steps: ['Cam cover off'],
    // what fastens the cover lies outside the step that takes it off
    joints: [{ name: 'Cam cover', procedure: 'PT-CC', behind: 'Tank off' }],
    checks: ['No oil after ten minutes'],
    marks: [{ text: 'Cam wheel to its casting, with the paint pen', behind: 'Cam cover off' }],
    tools: [
      { tool: 'Spark plug hole cap', count: 2, for: 'Cam cover off', before: 'Cam cover off' },
      { tool: 'Cam locking pin', for: 'Cam cover off', before: 'Cam cover off' },
    ],
    turnsEngine: true,
    parts: [['CC-30', 'Cam cover gasket', 1, 800, 1900]],
  },
  {
    name: 'Cam chain tensioner: replace',
    hours: 1.4,
    steps: ['Cam cover off'],
    marks: [
      { text: 'Chain to both wheels, three marks', behind: 'Cam cover off' },
      { text: 'Photograph of the tensioner as it sits', behind: 'Cam cover off', photo: true },
    ],
    tools: [
      { tool: 'Cam locking pin', for: 'Cam cover off', before: 'Cam cover off' },
      { tool: 'Chain keeper', for: 'Cam cover off', before: 'Cam cover off' },
    ],
    checks: ['Quiet from cold'],
    turnsEngine: true,
    sound: true,
    parts: [['CT-35', 'Cam chain tensioner', 1, 2400, 4300]],
  },
  { name: 'Clutch cable: replace', hours: 0.6, parts: [['CL-70', 'Clutch cable', 1, 1300, 2600]] },
  {
    name: 'Tyres: change',
    hours: 0.8,
    steps: ['Wheel off'],
    checks: ['Wheel nuts tightened again after the road test'],
    parts: [['TY-20', 'Tyre', 2, 5200, 7900]],
  },
]
