/** `joints_got` says which way the joints went that were tightened with the tool: less or more than asked for. */
export interface ToolDeviation {
  deviation_percent: number
  joints_got: 'less' | 'more' | 'as_asked'
}

/**
 * Deviation of a torque tool at calibration, in per cent: 100·(set or shown − reference)/reference (ISO 6789). The reference
 * is what the joint gets, so a tool that reads high has left its joints with less than was asked for.
 *
 * @throws RangeError when a torque is not above zero.
 */
export function toolDeviation(setOrShownNm: number, referenceNm: number): ToolDeviation {
  if (!(setOrShownNm > 0 && referenceNm > 0)) throw new RangeError('toolDeviation requires torques above zero')
  const deviationPercent = (100 * (setOrShownNm - referenceNm)) / referenceNm
  return {
    deviation_percent: deviationPercent,
    joints_got: deviationPercent > 0 ? 'less' : deviationPercent < 0 ? 'more' : 'as_asked',
  }
}
