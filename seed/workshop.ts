import { addDays, daysBetween } from '../src/core/calendar.ts'
import { random } from '../src/core/random.ts'
import type { HandClock } from '../src/platform/clock.ts'
import type { Deps } from '../src/platform/context.ts'
import { write } from '../src/platform/database/unit-of-work.ts'
import { createCustomer, createVehicle } from '../src/vehicles/index.ts'
import { afterComebackScenes } from './after-comebacks.ts'
import { fillCatalogue } from './catalogue.ts'
import { gaugeScenes } from './gauges.ts'
import { FAMILIES, type Family, liveLife } from './lives.ts'
import { editionScenes } from './manual-editions.ts'
import { customerName, phoneNumber, plateNumber } from './names.ts'
import { openWorkScenes } from './open-work.ts'
import { hireCrew } from './people.ts'
import { makeRecordings } from './recordings.ts'
import { at, playScenes, type Scene } from './scenes.ts'
import { sittingScenes } from './sittings.ts'
import { badBatchScenes } from './the-bad-batch.ts'
import { type Story, visitScenes } from './visits.ts'
import { wrenchScenes } from './wrenches.ts'

export const FIRST_DAY = '2028-11-06'
export const LAST_DAY = '2031-11-04'

/** The story ends, and the demo begins, on a Tuesday afternoon. */
export const DEMO_NOW = at(LAST_DAY, 14, 25)

const SEED = 20_311_104

/**
 * Three years of Pennard & Oake, told through the services, so that nothing of it can be what the program would refuse; the
 * same every time. Refuses a database in which anybody works already.
 */
export async function tellWorkshop(deps: Deps & { clock: HandClock }): Promise<void> {
  if (deps.store.raw.prepare('select count(*) from people').pluck().get() !== 0)
    throw new Error('The story is told to an empty database only.')
  deps.clock.set(at(FIRST_DAY, 7))
  const crew = await hireCrew(deps)
  const kept = await makeRecordings(crew.tobin)
  write(deps, () => {
    const chance = random(SEED)
    const story: Story = { crew, catalogue: fillCatalogue(crew), chance, kept }
    playScenes(deps.clock, [
      ...wrenchScenes(crew, FIRST_DAY, LAST_DAY),
      ...gaugeScenes(crew, FIRST_DAY),
      ...editionScenes(crew),
      ...FAMILIES.flatMap((family, nth) => familyScenes(story, family, nth)),
      ...sittingScenes(story, FIRST_DAY, LAST_DAY),
      ...afterComebackScenes(story),
      ...badBatchScenes(story),
      ...openWorkScenes(story),
    ])
  })
  deps.clock.set(DEMO_NOW)
}

/** Every vehicle of a family: when it first comes, and its whole life from then on. */
function familyScenes(story: Story, family: Family, nthFamily: number): Scene[] {
  return Array.from({ length: family.count }, (_, nth) => vehicleScenes(story, family, nthFamily * 100 + nth)).flat()
}

function vehicleScenes(story: Story, family: Family, number: number): Scene[] {
  const { chance, crew } = story
  const from = addDays(FIRST_DAY, chance.integer(500))
  // the last days belong to the open work
  const { comings, others } = liveLife(family, from, addDays(LAST_DAY, -6), chance)
  if (comings.length === 0) return []
  const vehicle = { id: '', customer_id: '', customer_name: customerName(number) }
  const startKm = 4000 + chance.integer(90_000)
  const variant = family.variants[chance.integer(Math.max(1, family.variants.length))]
  const first: Scene = {
    at: at(comings[0]!.on, 7, 50),
    play() {
      const customer = createCustomer(crew.desk, { name: vehicle.customer_name, phone: phoneNumber(number) })
      vehicle.customer_id = customer.id
      vehicle.id = createVehicle(crew.desk, {
        plate: plateNumber(number),
        family: family.name,
        ...(variant !== undefined && { variant }),
        odometer_unit: 'km',
        first_registered_on: addDays(from, -400 - Math.round((startKm / family.km_a_day) * 0.9)),
        keeper_id: customer.id,
      }).id
    },
  }
  let told = ''
  let free = ''
  const visits = comings
    // a vehicle is in the house once at a time
    .filter(coming => {
      const isFree = coming.on > free
      if (isFree) free = addDays(coming.on, 1)
      return isFree
    })
    .flatMap(coming => {
      const since = told
      told = coming.on
      const news = others.filter(work => (work.on === null ? since === '' : work.on > since && work.on <= coming.on))
      return visitScenes(
        story,
        vehicle,
        coming,
        startKm + Math.round(daysBetween(from, coming.on) * family.km_a_day),
        news,
      )
    })
  return [first, ...visits]
}
