import { qrCode } from '../qr.ts'
import { em, link, plate, ref, strong, words } from '../words.ts'
import type { Pattern } from './pattern.ts'

/** Sentences, facts, steps and signatures, in the made-up workshop of Pennard & Oake. */
export function textPatterns(): Pattern[] {
  return [
    {
      partial: 'words',
      examples: [
        { name: 'Plain text', view: 'bay 2, on the two-post lift; loose parts in box 14' },
        {
          name: 'With a link, a plate and a number that never breaks',
          view: words(
            plate('QH 418 TK'),
            ' came back after ',
            link('/work-orders', ref('2031-0188')),
            ', ',
            em('often followed by'),
            ' a ',
            strong('noisy'),
            ' bearing.',
          ),
        },
      ],
    },
    {
      partial: 'facts',
      examples: [
        {
          name: 'In the column of facts',
          view: {
            heading: 'The order',
            facts: [
              { label: 'To pay', value: '€158.04', chief: true },
              { label: 'Cost to us', value: words('€326.20, as comeback of ', link('/work-orders', ref('2031-0188'))) },
              { label: 'Odometer in', value: '143 720 km', note: 'it fits' },
            ],
          },
        },
        {
          name: 'In a line, at the bench',
          view: {
            in_a_line: true,
            facts: [
              { label: 'Wrench', value: words(ref('W-11'), ', reads out, 20 to 100 N·m, in date to 2 March') },
              { label: 'Order', value: '1 4 2 5 3 6 by position, from the peg; it matters here' },
            ],
          },
        },
      ],
    },
    {
      partial: 'sentences',
      examples: [
        {
          name: 'Flags: foremost, one that can hurt, one that can wait',
          view: {
            sentences: [
              {
                word: 'Ours, back',
                foremost: true,
                text: words(
                  'Came in 41 days after we renewed the final drive belt on it (',
                  link('/work-orders', words('work order ', ref('2031-0188'))[1]!),
                  '); still under warranty to 24 March 2032.',
                ),
                why: '7 of 9 like this were comebacks (interval 45 to 94 %). Only Marta decides.',
              },
              {
                word: 'Caution',
                hurts: true,
                text: words(
                  'Wrench ',
                  ref('W-07'),
                  ' was found to give 6 % less than it is set to. All six bolts are in doubt: look at them before anyone drives it again.',
                ),
                why: words('Joint ', link('/vehicles', 'drive flange to rear hub'), ', safety.'),
              },
              { word: 'Left for later', text: 'The seal of the rear hub was weeping on 18 January.' },
            ],
          },
        },
      ],
    },
    {
      partial: 'finding',
      examples: [
        {
          name: 'With who saw it',
          view: {
            text: 'The rear hub bearing, left, is rough and hums when turned by hand: 0.4 mm of play, 0.05 allowed.',
            who: 'Tobin Rask, 10:35, photos 1 to 4',
          },
        },
      ],
    },
    {
      partial: 'caution',
      examples: [
        {
          name: 'Beside a number',
          view: {
            text: 'Bolt 3 went to 52.4°, past its limit of 48°. Single-use bolt: take it out, fit a new one, all three stages again.',
          },
        },
        { name: 'With another word', view: { word: 'Safety', text: 'Not on the road until the bearing is replaced.' } },
      ],
    },
    {
      partial: 'asked-of-record',
      examples: [
        {
          name: 'On the page of the season',
          view: {
            places: [
              { href: '/recurring', name: 'What follows what', here: false },
              { href: '/recurring/season', name: 'Season', here: true },
            ],
          },
        },
      ],
    },
    {
      partial: 'quotation',
      examples: [
        {
          name: 'A complaint',
          view: {
            text: 'It hums from the back above forty, like a bee in a jar.',
            who: 'Bodil Farrow, 4 November, 09:12',
          },
        },
      ],
    },
    {
      partial: 'steps',
      examples: [
        {
          name: 'Signed, now, blocked, open',
          view: {
            heading: 'Job card, rear hub',
            ordered: true,
            steps: [
              { state: 'signed', text: 'Hub and carrier marked', note: 'photo 5, 12:40' },
              { state: 'now', text: 'Drive flange to rear hub', note: '2 of 6 conform' },
              {
                state: 'blocked',
                text: 'Hub carrier back',
                note: 'cannot be closed yet: holding plate no. 3 is still in; the look at the brake hose is not done',
              },
              {
                state: 'open',
                text: 'Turn by hand, two turns',
                actions: [{ kind: 'post', label: 'Done', action: '/patterns', about: 'turn by hand' }],
              },
            ],
          },
        },
      ],
    },
    {
      partial: 'tools-inside',
      examples: [
        {
          name: 'One tool',
          view: { text: 'hub holding plate no. 3, since 13:58. The hub carrier cannot go back over it.' },
        },
      ],
    },
    {
      partial: 'no-connection',
      examples: [
        {
          name: 'Three taps kept',
          view: {
            what: 'No connection since 14:31. Carry on.',
            kept: '3 taps are kept on this tablet and go to the record in order as soon as the office answers.',
          },
        },
      ],
    },
    {
      partial: 'signatures',
      examples: [
        {
          name: 'Two people, and a line to sign on',
          view: {
            people: [
              {
                name: 'Tobin Rask',
                signed: true,
                says: ['tightened and signed off the joint', '4 Nov 2031, 15:02, own login'],
              },
              {
                name: 'Wen Adeyo',
                signed: true,
                says: ['second person; turned nothing', '4 Nov 2031, 15:20, own login'],
              },
              { name: 'Bodil Farrow', signed: false, says: ['received the vehicle'] },
            ],
          },
        },
      ],
    },
    {
      partial: 'back-to-live',
      examples: [
        {
          name: 'On a fastening record',
          view: {
            qr: qrCode('https://shop.pennard-oake.example/fastening-records/2031-0231-2'),
            label: 'the live record',
            address: words('Live record: shop.pennard-oake.example/fastening-records/', ref('2031-0231'), '-2'),
            aside:
              'Entry 48 197 of the record chain. This paper says what wrench and gauge showed and who was there. It does not replace the maker’s manual.',
          },
        },
      ],
    },
    {
      partial: 'empty',
      examples: [
        {
          name: 'No wrenches yet',
          view: {
            text: 'No wrench is written down. Without one a safety joint can never be called right.',
            actions: [{ kind: 'button', label: 'Add a wrench', href: '/tools' }],
          },
        },
      ],
    },
    {
      partial: 'pagination',
      examples: [
        {
          name: 'In the middle',
          view: { says: '51 to 100 of 213 work orders', first: '/work-orders', next: '/work-orders?cursor=abc' },
        },
        { name: 'At the end', view: { says: 'All 9 events' } },
      ],
    },
  ]
}
