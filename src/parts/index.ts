export type { Part, Supplier } from './contract.ts'
export { refuseBadBatch, reportBatchFault } from './service/batch-faults.ts'
export { allParts, allSuppliers, createPart, createSupplier, partById, supplierById } from './service.ts'
