export { exportAll } from './export-all.ts'
export { importAll } from './import-all.ts'
