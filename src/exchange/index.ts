export { exportAll } from './export-all.ts'
export { importAll } from './import-all.ts'
export type { Manifest } from './manifest.ts'
