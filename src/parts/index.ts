export type { Part, Supplier } from './contract.ts'
export { allParts, allSuppliers, createPart, createSupplier, partById, supplierById } from './service.ts'
