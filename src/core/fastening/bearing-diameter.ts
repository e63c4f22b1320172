/** Least diameter of the washer face of a hexagon head, product grade A, B above M24 (ISO 4014, d_w), in mm. From memory. */
const HEAD_FACE_MM: Record<number, number> = {
  ...{ 3: 4.57, 4: 5.88, 5: 6.88, 6: 8.88, 8: 11.63, 10: 14.63, 12: 16.63, 14: 19.64, 16: 22.49 },
  ...{ 18: 25.34, 20: 28.19, 22: 31.71, 24: 33.61, 27: 38, 30: 42.75, 33: 46.55, 36: 51.11, 39: 55.86 },
}

/** Clearance holes, medium series (ISO 273), in mm. From memory. */
const HOLE_MM: Record<number, number> = {
  ...{ 3: 3.4, 4: 4.5, 5: 5.5, 6: 6.6, 8: 9, 10: 11, 12: 13.5, 14: 15.5, 16: 17.5 },
  ...{ 18: 20, 20: 22, 22: 24, 24: 26, 27: 30, 30: 33, 33: 36, 36: 39, 39: 42 },
}

/** Where no table has the size. Common practice, no source; the tables above lie between 1.22 and 1.33. */
const USUAL_RATIO = 1.28

/**
 * D_Km, the mean diameter on which a hexagon head bears, (d_W + d_h)/2 (VDI 2230), in mm. `tabulated` is false where the
 * size is in no table and a usual ratio to the thread stands in for it. A flanged or a socket head bears elsewhere.
 */
export function hexagonBearing(threadMm: number): { bearing_diameter_mm: number; tabulated: boolean } {
  const [face, hole] = [HEAD_FACE_MM[threadMm], HOLE_MM[threadMm]]
  return face === undefined || hole === undefined
    ? { bearing_diameter_mm: USUAL_RATIO * threadMm, tabulated: false }
    : { bearing_diameter_mm: (face + hole) / 2, tabulated: true }
}
