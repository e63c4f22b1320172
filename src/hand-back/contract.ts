import { z } from 'zod'
import { Day, Id, Instant, Line, MinorMoney, Price, Reason, RecordFields } from '../platform/contract.ts'
import { EstimateLine, OdometerKm, TaxOfRate } from '../work-orders/contract.ts'

/** `borne_minor` is what we bear of the total, tax included; it needs `borne_reason`. */
export const HandBackInput = z
  .strictObject({
    odometer_km: OdometerKm.optional().meta({
      title: 'Odometer now',
      in_thousands: true,
      unit: 'km',
      classes: 'short',
    }),
    borne_minor: Price.optional().meta({
      title: 'We bear of it, tax included',
      input: 'money',
      classes: 'short',
      description: 'A comeback, goodwill, work done twice. It comes off what is to pay.',
    }),
    borne_reason: Line.optional().meta({ title: 'Why we bear it' }),
  })
  .meta({ id: 'HandBackInput' })
export type HandBackInput = z.infer<typeof HandBackInput>

/** A line as charged: `by` says whether the estimate's word or the book's held for it. */
export const InvoiceLine = z
  .strictObject({ ...EstimateLine.shape, by: z.enum(['estimate', 'book']), line_minor: MinorMoney })
  .meta({ id: 'InvoiceLine' })

/** Net, tax and gross are what is to pay: after the discount and after what we bear. */
export const Invoice = z
  .strictObject({
    number: z.string(),
    lines: z.array(InvoiceLine),
    discount_minor: Price,
    net_minor: MinorMoney,
    tax: z.array(TaxOfRate),
    gross_minor: MinorMoney,
  })
  .meta({ id: 'Invoice' })

export const JobWarranty = z
  .strictObject({ job_id: Id, until_on: Day, until_km: z.number().optional() })
  .meta({ id: 'JobWarranty' })

/** `to_ask`: what nobody had said when it left, such as that a job is done; it stopped nothing and is worth a question still. */
export const HandBack = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    at: Instant,
    on: Day,
    odometer_km: z.number().optional(),
    borne_minor: Price.optional(),
    borne_reason: z.string().optional(),
    invoice: Invoice,
    warranties: z.array(JobWarranty),
    to_ask: z.array(Reason),
  })
  .meta({ id: 'HandBack' })
export type HandBack = z.infer<typeof HandBack>
