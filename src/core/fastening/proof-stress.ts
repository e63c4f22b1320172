/** Property classes of ISO 898-1 with a nominal proof stress. */
export const PROPERTY_CLASSES = ['4.6', '4.8', '5.6', '5.8', '6.8', '8.8', '9.8', '10.9', '12.9'] as const
export type PropertyClass = (typeof PROPERTY_CLASSES)[number]

const PROOF_STRESS_MPA: Record<PropertyClass, number> = {
  ...{ '4.6': 225, '4.8': 310, '5.6': 280, '5.8': 380, '6.8': 440 },
  ...{ '8.8': 580, '9.8': 650, '10.9': 830, '12.9': 970 },
}

export function isPropertyClass(text: string): text is PropertyClass {
  return Object.hasOwn(PROOF_STRESS_MPA, text)
}

/**
 * Nominal proof stress S_p in MPa (ISO 898-1, Table 3): 8.8 has 600 above M16.
 *
 * @throws RangeError for another class.
 */
export function proofStress(propertyClass: string, diameterMm: number): number {
  if (propertyClass === '8.8' && diameterMm > 16) return 600
  if (!isPropertyClass(propertyClass))
    throw new RangeError(`proofStress requires a property class among ${PROPERTY_CLASSES.join(', ')}`)
  return PROOF_STRESS_MPA[propertyClass]
}
