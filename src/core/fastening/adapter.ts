/** A wrench with an adapter in its square. Lengths in mm: the wrench to the grip mark, the adapter from the square to the fastener. */
export interface AdapterInput {
  target_nm: number
  wrench_length_mm: number
  adapter_length_mm: number
  angle_deg: number
}

/** How far the fastener lies from the hand along the wrench, in mm: L + E·cos θ. */
function reachMm({ wrench_length_mm, adapter_length_mm, angle_deg }: Omit<AdapterInput, 'target_nm'>): number {
  return wrench_length_mm + adapter_length_mm * Math.cos((angle_deg * Math.PI) / 180)
}

/** Whether the adapter ends before the hand, so that pulling turns the fastener the right way. */
export function reachesFastener(input: Omit<AdapterInput, 'target_nm'>): boolean {
  return reachMm(input) > 1e-9 * input.wrench_length_mm
}

/**
 * What to set a wrench to, in N·m, so that the fastener gets the target through an adapter: T_set = T·L/(L + E·cos θ), θ
 * between the wrench's axis, outwards, and the adapter: 0° lengthens, 90° changes nothing. True with the hand at the grip
 * mark only. (TM 9-254, fig. 4-6.)
 *
 * @throws RangeError when target or wrench length is not above zero, the adapter's length is below zero, or the adapter
 * reaches back past the hand.
 */
export function adapter(input: AdapterInput): number {
  const { target_nm, wrench_length_mm, adapter_length_mm, angle_deg } = input
  if (!(target_nm > 0 && Number.isFinite(target_nm))) throw new RangeError('adapter requires a target above zero')
  if (!(wrench_length_mm > 0 && Number.isFinite(wrench_length_mm)))
    throw new RangeError('adapter requires a wrench length above zero')
  if (!(adapter_length_mm >= 0 && Number.isFinite(adapter_length_mm)))
    throw new RangeError('adapter requires an adapter length of zero or more')
  if (!Number.isFinite(angle_deg)) throw new RangeError('adapter requires a finite angle')
  if (!reachesFastener(input)) throw new RangeError('adapter requires the fastener to lie on the far side of the hand')
  return (target_nm * wrench_length_mm) / reachMm(input)
}
