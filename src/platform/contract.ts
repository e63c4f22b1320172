import { z } from 'zod'
import { isSinceMotoring } from '../core/calendar.ts'

/**
 * The atoms of every `contract.ts`. A contract describes JSON exactly as it goes over the wire: strings, numbers, booleans,
 * lists and `z.strictObject`. No `coerce`, `transform`, `default`, `Date`, codecs or async checks: what was parsed is what
 * was sent. Besides zod, core and other contracts, this is the one file that a contract may import.
 *
 * `.meta({ title, description })` are the label and the hint of the form field. Further keys of `.meta` for forms:
 * - `input`: 'textarea' | 'radios' | 'money' | 'percent' | 'instant' | 'password' | 'tel' | 'email' | 'hidden'
 *   (money: minor units, typed in major ones; percent: basis points, typed in per cent; instant: typed in shop time)
 * - `unit`: printed after the control ('N·m', 'km'); `classes`: of the field ('short', 'medium', 'reading'); `autocomplete`
 * - `labels`: what the words of a list are called on a page, where they do not read well as they are
 * - `in_thousands: true`: a number that runs into thousands, where "84.500" is asked about as "84,500" is everywhere
 * - `keep_empty: true`: '' is a value of its own and does not mean "absent" (queries)
 * `.meta({ id: 'Vehicle' })` names a schema in the OpenAPI document; give one to each input and each answer, all different.
 */

const CONTROL = /\p{Cc}/u
const CONTROL_BUT_LINES = /[^\P{Cc}\n\r\t]/u
const LONE_SURROGATE = /\p{Cs}/u

/** One line of text that can be stored and compared: no control characters, no broken Unicode, no space around it. */
function isLine(text: string): boolean {
  return !CONTROL.test(text) && !LONE_SURROGATE.test(text) && text.trim() === text
}

function isProse(text: string): boolean {
  return !CONTROL_BUT_LINES.test(text) && !LONE_SURROGATE.test(text) && text.trim() !== ''
}

const LINE_RULE = 'Write it on one line, without control characters and without spaces around it.'

/** An id as it stands in a body or a query. Whether it names something is for the service to say (422 there, 404 in a path). */
export const Id = z.string().min(1).max(100).refine(isLine, LINE_RULE)

/** A calendar day that exists, YYYY-MM-DD. */
export const Day = z.iso.date()

/** A day on which something can have happened to a vehicle or a tool, or is promised: since there are motor vehicles. */
export const MotoringDay = z.iso
  .date({ abort: true })
  .refine(isSinceMotoring, 'No motor vehicle ran before 1885. Write the year in full.')

/** An instant, ISO 8601 in UTC: 2031-05-04T10:30:00.000Z. See wire.ts for milliseconds. */
export const Instant = z.iso.datetime()

/** A name: one line, at most 200 characters. */
export const Name = z.string().min(1).max(200).refine(isLine, LINE_RULE)

/** One line of at most 500 characters: a reason, an address, a source. */
export const Line = z.string().min(1).max(500).refine(isLine, LINE_RULE)

/** What a person says or explains: several lines, at most 10 000 characters, not blank. */
export const Text = z
  .string()
  .min(1, { abort: true })
  .max(10_000)
  .refine(isProse, 'Write some text, without control characters other than line ends.')
  .meta({ input: 'textarea' })

/** An amount in minor units of the workshop's currency; may be negative. */
export const MinorMoney = z.int().meta({ input: 'money' })

/** A price or a cost: zero or more minor units. */
export const Price = z.int().nonnegative().meta({ input: 'money' })

/** Basis points: 2000 is 20 %. */
export const BasisPoints = z.int().min(0).max(10_000).meta({ input: 'percent' })

/** What every record has. `created_by` is the id of a person or token, null for what the command line wrote. */
export const RecordFields = {
  id: Id,
  created_at: Instant,
  created_by: Id.nullable(),
}

/** Why something is blocked or flagged: a name for programs, a sentence for people, and where to look. */
export const Reason = z
  .strictObject({ reason: z.string(), sentence: z.string(), href: z.string() })
  .meta({ id: 'Reason' })
export type Reason = z.infer<typeof Reason>

/** The error answer of the whole API (RFC 9457). Further members, such as `blockers`, depend on `type`. */
export const ProblemDocument = z
  .looseObject({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    instance: z.string(),
    errors: z.array(z.strictObject({ pointer: z.string(), detail: z.string(), code: z.string() })).optional(),
  })
  .meta({ id: 'Problem' })

/** The fields of a PATCH body (RFC 7396) for a record sent as `input`: all may be absent, and null empties an optional one. */
export function patchOf<Shape extends z.ZodRawShape>(input: z.ZodObject<Shape>): z.ZodObject<PatchShape<Shape>> {
  const shape = Object.fromEntries(
    Object.entries(input.shape).map(([name, field]) => {
      const schema = field as z.ZodType
      return [name, schema instanceof z.ZodOptional ? schema.nullable().optional() : schema.optional()]
    }),
  )
  return z.strictObject(shape) as unknown as z.ZodObject<PatchShape<Shape>>
}

type PatchShape<Shape extends z.ZodRawShape> = {
  [Field in keyof Shape]: Shape[Field] extends z.ZodOptional<infer Inner extends z.ZodType>
    ? z.ZodOptional<z.ZodNullable<Inner>>
    : Shape[Field] extends z.ZodType
      ? z.ZodOptional<Shape[Field]>
      : never
}
