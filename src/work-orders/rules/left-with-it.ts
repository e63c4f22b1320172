import type { OLD_PARTS_WISHES } from '../../core/vocabulary.ts'

const OLD_PARTS: Record<(typeof OLD_PARTS_WISHES)[number], string> = {
  give_back: 'the customer wants them',
  throw_away: 'not wanted',
}

interface Arrival {
  keys?: string | undefined
  belongings?: string | undefined
  old_parts?: (typeof OLD_PARTS_WISHES)[number] | undefined
}

/** What was left with a vehicle and goes back with it, as facts: on the order while it is here, and when it is handed back. */
export function leftWithIt({ keys, belongings, old_parts }: Arrival): { label: string; value: string }[] {
  return [
    { label: 'Keys', value: keys },
    { label: 'Left inside', value: belongings },
    { label: 'Replaced parts', value: old_parts && OLD_PARTS[old_parts] },
  ].flatMap(({ label, value }) => (value === undefined ? [] : [{ label, value }]))
}
