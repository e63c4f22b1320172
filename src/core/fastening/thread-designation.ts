import { leavesRoot } from './thread.ts'

/** Coarse pitches of ISO 261, first and second choice, in mm. From memory; the areas they give are tested against ISO 898-1. */
const COARSE: Record<number, number> = {
  ...{ 3: 0.5, 4: 0.7, 5: 0.8, 6: 1, 7: 1, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2, 16: 2 },
  ...{ 18: 2.5, 20: 2.5, 22: 2.5, 24: 3, 27: 3, 30: 3.5, 33: 3.5, 36: 4, 39: 4 },
}

/**
 * Diameter and pitch, in mm, of a metric thread as it is written on a drawing: "M10" (coarse pitch), "M10x1.25", "M10 × 1,25".
 * Null when it is not written so, "M…" alone names no coarse pitch that is known, or no thread can be like that: above
 * 300 mm (the largest of ISO 261), or a pitch that leaves no root.
 */
export function threadDesignation(text: string): { diameter_mm: number; pitch_mm: number } | null {
  const read = /^M\s*(\d+(?:[.,]\d+)?)(?:\s*[x×]\s*(\d+(?:[.,]\d+)?))?$/i.exec(text.trim())
  if (read === null) return null
  const diameterMm = Number(read[1]!.replace(',', '.'))
  const pitchMm = read[2] === undefined ? COARSE[diameterMm] : Number(read[2].replace(',', '.'))
  const isThread = pitchMm !== undefined && pitchMm > 0 && diameterMm <= 300 && leavesRoot(diameterMm, pitchMm)
  return isThread ? { diameter_mm: diameterMm, pitch_mm: pitchMm } : null
}
