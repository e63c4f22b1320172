/** What other capabilities may use. */
export { takeIn } from './service/take-in.ts'
