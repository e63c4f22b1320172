import { patchSettings } from '../src/accounts/index.ts'
import { addPersonWith, preparePassword } from '../src/accounts/service.ts'
import type { HandClock } from '../src/platform/clock.ts'
import { type Context, contextFor, type Deps } from '../src/platform/context.ts'

/** Everybody who works at Pennard & Oake signs in with the same password in the demo, which hands it out. */
export const DEMO_PASSWORD = 'ropewalk-4'

export const TIME_ZONE = 'Europe/Dublin'

export const CREW = [
  { key: 'owner', name: 'Marta Oake', role: 'owner' },
  { key: 'desk', name: 'Ilse Marrok', role: 'desk' },
  { key: 'tobin', name: 'Tobin Rask', role: 'technician' },
  { key: 'wen', name: 'Wen Adeyo', role: 'technician' },
] as const

/** A context for each of them, to call services with; the story moves their clock. */
export type Hand = Context & { clock: HandClock }
export type Crew = Record<(typeof CREW)[number]['key'], Hand>

/** The workshop itself and its people. Passwords are hashed first: that is slow, and never done inside a transaction. */
export async function hireCrew(deps: Deps & { clock: HandClock }): Promise<Crew> {
  const system = contextFor(deps, null)
  patchSettings(
    system,
    {
      name: 'Pennard & Oake',
      place: 'Quillhaven',
      address: '4 Ropewalk, Quillhaven',
      invoice_note:
        'To be paid within fourteen days: in cash or by card at the desk, or to account QH00 0000 4471 with Quillhaven Savings.\nTax number QH-118-204.',
      time_zone: TIME_ZONE,
      locale: 'en-IE',
      currency: 'EUR',
      labour_rate_minor: 6800,
      gauge_uncertainty_deg: 1,
      warranty_days: 180,
    },
    0,
  )
  const crew: Partial<Crew> = {}
  // hashed once for all four: it takes as long as a password should
  const password = await preparePassword(DEMO_PASSWORD)
  for (const { key, name, role } of CREW) {
    const person = addPersonWith(system, { name, role }, password)
    crew[key] = { ...contextFor(deps, { id: person.id, name, role }), clock: deps.clock }
  }
  return crew as Crew
}
