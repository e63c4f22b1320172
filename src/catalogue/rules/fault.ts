/** One bad field of what was sent, as a JSON pointer into it. */
export interface Fault {
  pointer: string
  detail: string
  code: string
}
