import { z } from 'zod'
import { Name, patchOf } from '../platform/contract.ts'
import { EditableFields } from '../vehicles/contract.ts'

export const PartInput = z
  .strictObject({
    number: Name.max(100).meta({ title: 'Part number', classes: 'medium' }),
    name: Name.meta({ title: 'Name' }),
    single_use: z.boolean().optional().meta({ title: 'For one use only: never fitted again' }),
  })
  .meta({ id: 'PartInput' })
export type PartInput = z.infer<typeof PartInput>
export const PartPatch = patchOf(PartInput).meta({ id: 'PartPatch' })
export type PartPatch = z.infer<typeof PartPatch>

export const Part = z
  .strictObject({ ...EditableFields, ...PartInput.shape, single_use: z.boolean() })
  .meta({ id: 'Part' })
export type Part = z.infer<typeof Part>

export const SupplierInput = z.strictObject({ name: Name.meta({ title: 'Name' }) }).meta({ id: 'SupplierInput' })
export type SupplierInput = z.infer<typeof SupplierInput>
export const SupplierPatch = patchOf(SupplierInput).meta({ id: 'SupplierPatch' })
export type SupplierPatch = z.infer<typeof SupplierPatch>

export const Supplier = z.strictObject({ ...EditableFields, ...SupplierInput.shape }).meta({ id: 'Supplier' })
export type Supplier = z.infer<typeof Supplier>
