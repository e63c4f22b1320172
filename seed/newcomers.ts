import { createCustomer, createVehicle } from '../src/vehicles/index.ts'
import type { Coming } from './lives.ts'
import type { Scene } from './scenes.ts'
import type { Story, VehicleInStory } from './visits.ts'

/** A vehicle that the story brings in by name. */
interface Newcomer {
  plate: string
  family: string
  variant?: string
  customer: string
  phone: string
  registered: string
  frame?: string
}

/** A vehicle and its keeper, added at a moment; the object is filled in when that scene is played. */
export function arrives(story: Story, when: number, newcomer: Newcomer): { vehicle: VehicleInStory; scene: Scene } {
  const { desk } = story.crew
  const vehicle = { id: '', customer_id: '', customer_name: newcomer.customer }
  const scene: Scene = {
    at: when,
    play() {
      vehicle.customer_id = createCustomer(desk, { name: newcomer.customer, phone: newcomer.phone }).id
      vehicle.id = createVehicle(desk, {
        plate: newcomer.plate,
        family: newcomer.family,
        odometer_unit: 'km',
        first_registered_on: newcomer.registered,
        keeper_id: vehicle.customer_id,
        ...(newcomer.variant !== undefined && { variant: newcomer.variant }),
        ...(newcomer.frame !== undefined && { frame_number: newcomer.frame }),
      }).id
    },
  }
  return { vehicle, scene }
}

/** Why it comes, where nothing is planted. */
export const coming = (on: string, operations: string[], complaint: string, symptom: string | null): Coming => ({
  on,
  operations,
  complaint,
  symptom,
  failure: null,
  we_bear: false,
})
