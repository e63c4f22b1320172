import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import { familyOfName, variantOfName } from '../../vehicles/index.ts'

/** The family of that name, or 422 at `pointer`. */
export function requireFamily(ctx: Context, name: string, pointer: string): { id: string; name: string } {
  const family = familyOfName(ctx, name)
  if (family === undefined) throw invalid({ pointer, detail: `There is no family called “${name}”.`, code: 'unknown' })
  return family
}

/** The variant of that name, as it is named on vehicles, or 422 at `pointer`. */
export function requireVariant(ctx: Context, name: string, pointer: string): { id: string; name: string } {
  const variant = variantOfName(ctx, name)
  if (variant === undefined)
    throw invalid({ pointer, detail: `There is no variant called “${name}”.`, code: 'unknown' })
  return variant
}
