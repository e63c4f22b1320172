import type { LineKind } from '../../core/vocabulary.ts'

export interface EstimateLine {
  kind: LineKind
  job_id?: string
  part_id?: string
  text: string
  quantity: number
  unit_minor: number
  tax_bp: number
}
