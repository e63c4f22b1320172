export type { Part, PartInput, Supplier, SupplierInput } from './contract.ts'
export {
  allParts,
  allSuppliers,
  createPart,
  createSupplier,
  partById,
  supplierById,
  updatePart,
  updateSupplier,
} from './service.ts'
