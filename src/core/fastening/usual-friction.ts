/** A coefficient to begin an estimate with, the range it is picked from, and for what surface. */
export interface UsualFriction {
  mu: number
  from: number
  to: number
  surface: string
}

/**
 * Friction coefficient classes of VDI 2230, Table A5, from memory: A 0.04 to 0.10, B 0.08 to 0.16, C 0.14 to 0.24, D 0.20
 * to 0.35. The middle of each to one hundredth. The order is that in which words of a finish are looked for: what lies on a
 * surface decides before what it is made of.
 */
const CLASSES: [RegExp, UsualFriction][] = [
  [
    /mos2|molybd|graphit|ptfe|paste|\bwax/,
    { mu: 0.07, from: 0.04, to: 0.1, surface: 'a solid lubricant, wax or paste (class A)' },
  ],
  [/\boil|\bgreas|\blubricated/, { mu: 0.12, from: 0.08, to: 0.16, surface: 'an oiled or greased surface (class B)' }],
  [/stainless|austenitic/, { mu: 0.27, from: 0.2, to: 0.35, surface: 'dry stainless steel (class D)' }],
  [
    /\bdry\b|unlubricated|zinc[- ]plated|galvani|electroplat/,
    { mu: 0.19, from: 0.14, to: 0.24, surface: 'a dry or zinc-plated surface (class C)' },
  ],
  [
    /zinc[- ]flake|phosphat|blacken|\bblack\b|\bplain\b/,
    { mu: 0.12, from: 0.08, to: 0.16, surface: 'a plain, phosphated or zinc-flake surface (class B)' },
  ],
]

/** When nothing is said of the finish. Common practice, no source. */
const UNSAID: UsualFriction = { mu: 0.14, from: 0.08, to: 0.24, surface: 'a finish that is not known' }

/**
 * The friction that is usual for a finish as it is written in a procedure; thread and head alike. A start for an estimate
 * that whoever asks may change, never a property of the joint.
 */
export function usualFriction(finish: string | undefined): UsualFriction {
  const words = (finish ?? '').toLowerCase()
  return CLASSES.find(([pattern]) => pattern.test(words))?.[1] ?? UNSAID
}
