import { intervalAxis, intervalRow, linearAxis, ratioAxis } from '../figures/interval-row.ts'
import { column, table } from '../table.ts'
import { em, link, ref, words } from '../words.ts'
import type { Pattern } from './pattern.ts'

/** Tables: signed rows and a sum, an interval in each row on one axis, and nothing to show. */
export function tablePatterns(): Pattern[] {
  return [
    {
      partial: 'table',
      examples: [
        { name: 'Signed rows and a sum', view: jobs() },
        { name: 'A chance in each row, with its break-even', view: whileOpen() },
        { name: 'A ratio in each row, each step doubles', view: pairs() },
        {
          name: 'Nothing yet',
          view: table({
            columns: [column('When'), column('Said')],
            rows: [],
            empty: 'Nobody has talked with the customer yet.',
          }),
        },
      ],
    },
  ]
}

function jobs() {
  return table({
    columns: [
      column('Job'),
      column('Hours', 'figure'),
      column('Parts', 'figure', 'without tax'),
      column('Where it stands'),
    ],
    rows: [
      {
        cells: [
          { text: 'A  Final drive belt: set tension', notes: [words('comeback of ', ref('2031-0188'))] },
          '0.5',
          '€0.00',
          'when the hub is back',
        ],
      },
      { signed: true, cells: ['B  Axle shaft boot: replace', '0.6', '€46.50', 'done 13:40, Tobin Rask'] },
      {
        cells: [
          'C  Hub seal: replace',
          '0.3',
          '€17.20',
          { text: 'open', actions: [{ kind: 'post', label: 'Done', about: 'job C', action: '/patterns' }] },
        ],
      },
    ],
    foot: [
      { cells: ['Together', '1.4', '€63.70'] },
      { grand: true, cells: ['To pay, with 20 % tax', '', '€158.04', 'of €165.00 agreed'] },
    ],
  })
}

function whileOpen() {
  const axis = linearAxis(0, 60, 3, 230)
  const looked = [
    { name: 'Hub seal', bad: '7 of 19', chance: 38, lower: 18, upper: 59, even: 2, says: 'Looked: bad' },
    { name: 'Brake hose at the carrier', bad: '2 of 19', chance: 12, lower: 2, upper: 30, even: 5, says: 'Look' },
    { name: 'Carrier bush', bad: '0 of 12', chance: 4, lower: 0, upper: 19, even: 19, says: 'Leave it' },
  ]
  return table({
    columns: [
      column('Exposed'),
      column('Bad of looked', 'figure'),
      column('Chance', 'figure'),
      column('0 to 60 %, open mark: break-even', 'plot'),
      column('', 'date'),
    ],
    rows: looked.map((each, place) => ({
      cells: [
        each.name,
        each.bad,
        `${each.chance} %`,
        {
          plot: intervalRow(axis, {
            id: `open-${place}`,
            title: `${each.name}: chance it is bad`,
            description: `${each.chance} per cent, interval ${each.lower} to ${each.upper}; worth a look above ${each.even} per cent`,
            estimate: each.chance,
            lower: each.lower,
            upper: each.upper,
            break_even: each.even,
          }),
        },
        each.says,
      ],
    })),
    foot: [{ axis: true, cells: ['', '', '', { plot: intervalAxis(axis, 'open-axis', 'Per cent, 0 to 60') }] }],
  })
}

function pairs() {
  const axis = ratioAxis(300)
  const tested = [
    {
      earlier: 'Final drive belt: renew',
      says: 'often followed by',
      later: 'rear wheel bearing noisy',
      counts: '14 in 55',
      ratio: 8.6,
      lower: 3.5,
      upper: 22.8,
      q: '0.0001',
    },
    {
      earlier: 'Timing belt: replace',
      says: 'not shown to be followed by',
      later: 'water pump leaking',
      counts: '2 in 102',
      ratio: 0.3,
      lower: 0.05,
      upper: 1.3,
      q: '0.16',
    },
  ]
  return table({
    pairs: true,
    columns: [
      column('Earlier work, later failure'),
      column('Failures in vehicle-years', 'figure', 'after it'),
      column('Times as often', 'plot'),
      column('Ratio', 'figure', '95 %'),
      column('q', 'figure'),
    ],
    rows: tested.map((pair, place) => ({
      cells: [
        words(link('/recurring', pair.earlier), ' ', em(pair.says), ` ${pair.later}`),
        pair.counts,
        {
          plot: intervalRow(axis, {
            id: `pair-${place}`,
            title: `Rate ratio: ${pair.earlier}, ${pair.later}`,
            description: `${pair.ratio} times, interval ${pair.lower} to ${pair.upper}`,
            estimate: pair.ratio,
            lower: pair.lower,
            upper: pair.upper,
            height: 40,
          }),
        },
        { text: String(pair.ratio), notes: [`${pair.lower} to ${pair.upper}`] },
        pair.q,
      ],
    })),
    foot: [
      {
        axis: true,
        cells: [
          '',
          '',
          { plot: intervalAxis(axis, 'pair-axis', 'Times as often, one eighth to thirty-two, each step doubles') },
        ],
      },
    ],
  })
}
