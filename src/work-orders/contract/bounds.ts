import { z } from 'zod'
import { Price } from '../../platform/contract.ts'

/**
 * Bounds that nobody at a counter meets. They keep every total of an order inside what a whole number holds exactly, so
 * that a sum can never fail after its parts were taken.
 */
export const UnitPrice = Price.max(100_000_000)
export const Quantity = z.number().positive().max(10_000)
export const Hours = z.number().nonnegative().max(1000).meta({ title: 'Hours', unit: 'h' })
export const OdometerKm = z
  .number()
  .nonnegative()
  .max(10_000_000)
  .meta({ title: 'Odometer', in_thousands: true, unit: 'km' })
