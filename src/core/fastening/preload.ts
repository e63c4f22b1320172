import { proofStress } from './proof-stress.ts'
import { thread } from './thread.ts'

/** A metric bolt tightened by torque. `bearing_diameter_mm` is D_Km, the mean of the head's bearing face and its hole. */
export interface PreloadInput {
  diameter_mm: number
  pitch_mm: number
  class: string
  torque_nm: number
  mu_thread: number
  mu_head: number
  bearing_diameter_mm: number
}

/** Forces in N, area in mm², `utilisation` the preload as a part of the proof load. */
export interface Preload {
  stress_area_mm2: number
  preload_n: number
  preload_low_n: number
  preload_high_n: number
  proof_load_n: number
  utilisation: number
}

/**
 * An estimate of the force that a torque leaves in a bolt, never an instruction: the maker's torque governs. T = F·(0.159 P
 * + 0.577 d2 μ_thread + D_Km/2·μ_head), VDI 2230; proof load A_s·S_p, ISO 898-1. Low and high are F·(1 ∓ p) with p = (α_A −
 * 1)/(α_A + 1) for the tightening factor α_A of the method: 1.6 to 2 for a torque wrench with the friction estimated, of
 * which 2 (a third either way) is used; 1.2 to 1.4 for tightening by angle or to yield (VDI 2230, Table A8).
 *
 * @throws RangeError for a torque, diameter, pitch or bearing diameter not above zero, friction below zero, a tightening
 * factor below one, an unknown class, or numbers so far apart that the forces are no numbers.
 */
export function preload(bolt: PreloadInput, tighteningFactor = 2): Preload {
  const positive = { torque: bolt.torque_nm, diameter: bolt.diameter_mm, 'bearing diameter': bolt.bearing_diameter_mm }
  for (const [name, value] of Object.entries(positive))
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`preload requires a ${name} above zero`)
  for (const mu of [bolt.mu_thread, bolt.mu_head])
    if (!(mu >= 0 && Number.isFinite(mu))) throw new RangeError('preload requires friction of zero or more')
  if (!(tighteningFactor >= 1)) throw new RangeError('preload requires a tightening factor of one or more')

  const { pitch_diameter_mm, stress_area_mm2 } = thread(bolt.diameter_mm, bolt.pitch_mm)
  const leverMm =
    0.159 * bolt.pitch_mm + 0.577 * pitch_diameter_mm * bolt.mu_thread + (bolt.bearing_diameter_mm / 2) * bolt.mu_head
  const preloadN = (bolt.torque_nm * 1000) / leverMm
  const scatter = 1 - 2 / (tighteningFactor + 1)
  const proofLoadN = stress_area_mm2 * proofStress(bolt.class, bolt.diameter_mm)
  if (!Number.isFinite(preloadN / proofLoadN) || !Number.isFinite(proofLoadN))
    throw new RangeError('preload requires a torque and sizes of real bolts')
  return {
    stress_area_mm2,
    preload_n: preloadN,
    preload_low_n: preloadN * (1 - scatter),
    preload_high_n: preloadN * (1 + scatter),
    proof_load_n: proofLoadN,
    utilisation: preloadN / proofLoadN,
  }
}

/**
 * The torque in N·m that would load a bolt to its proof load, by the same formula: above it an estimate has no meaning and a
 * joint tightened by torque alone asks for a second look at the manual.
 *
 * @throws RangeError as `preload` does.
 */
export function proofTorque(bolt: Omit<PreloadInput, 'torque_nm'>): number {
  return 1 / preload({ ...bolt, torque_nm: 1 }).utilisation
}
