import { z } from 'zod'
import type { TighteningUnit } from '../../../../core/vocabulary.ts'
import { TORQUE_UNIT_WORDS } from '../../../../core/words.ts'
import { TorqueRecordInput } from '../../../../fastening/contract.ts'
import { readNumber } from '../../../../platform/forms/decode.ts'
import { BeyondWrench } from './beyond-wrench.ts'

/** Units as they are typed behind a number, without their dots and spaces. */
const TYPED_UNITS: Record<string, TighteningUnit> = {
  ...{ nm: 'N.m', kgfm: 'kgf.m', kgm: 'kgf.m' },
  ...{ lbfft: 'lbf.ft', lbft: 'lbf.ft', ftlbf: 'lbf.ft', ftlb: 'lbf.ft', ftlbs: 'lbf.ft' },
  ...{ lbfin: 'lbf.in', lbin: 'lbf.in', inlbf: 'lbf.in', inlb: 'lbf.in', inlbs: 'lbf.in' },
  ...{ '°': 'deg', deg: 'deg', degree: 'deg', degrees: 'deg' },
}

/** Where the number ends and something that is no part of one begins. */
const NUMBER_THEN_UNIT = /^([-−\d.,\s]*\d)\s*([^\d\s.,].*)$/

/**
 * A reading as it is typed. A unit behind the number is taken when it is the field's own, and else refused: to convert it
 * unasked could record another torque than the one that was read.
 *
 * @returns the number, or the sentence that refuses it.
 */
export function typedReading(
  typed: string,
  { unit, basis }: { unit?: TighteningUnit | undefined; basis?: string | undefined },
): { value: number } | { refused: string } {
  const [, number = typed, behind] = NUMBER_THEN_UNIT.exec(typed.trim()) ?? []
  const value = readNumber(number.trim())
  if (value === null)
    return {
      refused: /\d,\d{3}$/.test(number.trim())
        ? 'Type it with a point, such as 25.4: a comma before three digits can mean thousands, too.'
        : 'This must be a number, such as 25.4.',
    }
  if (behind === undefined) return { value }
  const said = TYPED_UNITS[behind.toLowerCase().replace(/[\s.·⋅*×-]/g, '')]
  if (said !== undefined && said === unit) return { value }
  if (unit === 'deg') return { refused: 'An angle is read here: type the degrees as a number, such as 90.5.' }
  const own = TORQUE_UNIT_WORDS[unit ?? 'N.m']
  if (said === 'deg') return { refused: `A torque is read here: type it in ${own} as a number, such as 25.4.` }
  if (said === undefined)
    return { refused: `Type the number alone, such as 25.4: “${behind}” is no unit that is taken here.` }
  const other = TORQUE_UNIT_WORDS[said]
  return {
    refused:
      basis === 'set'
        ? `This is in ${other}. Type what the wrench was set to in ${own}.`
        : `This is in ${other}, and the field in ${own}. Choose ${other} beside it, or type the reading in ${own}.`,
  }
}

const TypedRecord = TorqueRecordInput.extend({ beyond_wrench: BeyondWrench })

/** The form of a reading; what it comes to is what the API takes, and whether the wrench did show a number beyond it. */
export const ReadingForm = z
  .strictObject({
    ...TorqueRecordInput.shape,
    value: z.string().max(50).optional().meta({ title: 'Reading' }),
    beyond_wrench: BeyondWrench,
  })
  .transform(({ value, ...rest }, ctx): z.input<typeof TypedRecord> => {
    if (value === undefined) return rest
    const read = typedReading(value, rest)
    if ('value' in read) return { ...rest, value: read.value }
    ctx.addIssue({ code: 'custom', path: ['value'], message: read.refused })
    return z.NEVER
  })
  .pipe(TypedRecord)
