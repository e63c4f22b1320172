import type { Drawing } from '../figures/drawing.ts'
import { timeLine } from '../figures/time-line.ts'

/** The van whose final drive belt was set too tight. */
export function life(): Drawing[] {
  return timeLine({
    id: 'life',
    title: 'Life of QH 418 TK by date and by distance',
    description:
      'Nine events from May 2027 to November 2031. Crosses are failures: alternator July 2030, hub seal January 2031, rear wheel bearing November 2031. A solid arc joins our final drive belt to the bearing; a dashed arc joins the boot replaced by another workshop to the hub seal.',
    unit: 'km',
    until: '2031-11-04',
    events: [
      {
        number: 1,
        on: '2027-05-17',
        distance: 0,
        by: 'start',
        is_failure: false,
        label: 'In service',
        note: '17 May 2027, 0 km',
      },
      {
        number: 2,
        on: '2028-06-08',
        distance: 24_600,
        by: 'others',
        is_failure: false,
        label: 'Service',
        note: 'others, 24 600 km',
      },
      {
        number: 3,
        on: '2029-02-12',
        distance: 44_900,
        by: 'others',
        is_failure: false,
        label: 'Axle shaft boot replaced',
        note: 'others, 44 900 km',
      },
      {
        number: 4,
        on: '2029-09-03',
        distance: 66_300,
        by: 'us',
        is_failure: false,
        label: 'Timing belt, water pump',
        note: '3 Sep 2029, 66 300 km',
      },
      {
        number: 5,
        on: '2030-03-20',
        distance: 88_200,
        by: 'others',
        is_failure: false,
        label: 'Rear brake pads',
        note: 'the owner, 88 200 km',
      },
      {
        number: 6,
        on: '2030-07-09',
        distance: 99_700,
        by: 'us',
        is_failure: true,
        label: 'Alternator failed',
        note: '9 Jul 2030, 99 700 km',
      },
      {
        number: 7,
        on: '2031-01-18',
        distance: 118_900,
        by: 'us',
        is_failure: true,
        label: 'Hub seal weeping',
        note: '18 Jan 2031, 118 900 km',
      },
      {
        number: 8,
        on: '2031-09-24',
        distance: 140_300,
        by: 'us',
        is_failure: false,
        label: 'Final drive belt renewed',
        note: '24 Sep 2031, 140 300 km',
      },
      {
        number: 9,
        on: '2031-11-04',
        distance: 143_720,
        by: 'us',
        is_failure: true,
        label: 'Rear wheel bearing noisy',
        note: '4 Nov 2031, 143 720 km',
      },
    ],
    arcs: [
      { from: 8, to: 9, is_confirmed: true },
      { from: 3, to: 7, is_confirmed: false },
    ],
  })
}
