import { attachmentSet } from '../attachments.ts'
import type { Pattern } from './pattern.ts'

const by = 'Tobin Rask, 4 Nov 2031, 10:35'

/** What was photographed and recorded: one thing with one picture, two of a kind side by side, and a clip. */
export function attachmentPatterns(): Pattern[] {
  return [
    {
      partial: 'attachment',
      examples: [
        {
          name: 'A sound',
          view: attachmentSet({ of: 'Job A, rear wheel bearing' }, [
            { id: 'example-1', kind: 'sound', moment: null, why: 'Hum at the left rear wheel, turned by hand', by },
          ]).single[0]!,
        },
      ],
    },
    {
      partial: 'attachments',
      examples: [
        {
          name: 'Before and after, side by side; and where one more is added',
          view: {
            sets: [
              attachmentSet({ of: 'Job B, hub seal', heading: 'Job B, hub seal', add: '/patterns' }, [
                { id: 'example-2', kind: 'sound', moment: 'before', why: 'Hums above forty', by },
                { id: 'example-3', kind: 'sound', moment: 'after', why: 'Quiet on the same road', by },
                { id: 'example-4', kind: 'clip', moment: null, why: null, by },
              ]),
            ],
          },
        },
      ],
    },
  ]
}
