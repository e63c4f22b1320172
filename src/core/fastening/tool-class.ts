/**
 * A class of ISO 6789:2003: type I (indicating, A to E) or II (setting, A to G). Tools are stamped "II A", "Type II, Class A" or
 * with the letter alone.
 */
const CLASS =
  /^(?:(?:(?:din )?(?:en )?iso )?6789(?:-[12])?(?::\d{4})?[ ,/-]*)?(?:(?:type )?(?:(?:II|2)[ ,/-]*(?:class )?[A-G]|(?:I|1)[ ,/-]*(?:class )?[A-E])|(?:class )?[A-G])$/i

/**
 * What stands in for the relative uncertainty (k = 2) of a torque tool that has no certificate: ISO 6789 lets it deviate by
 * 4 % of the value, by 6 % when the tool's maximum is 10 N·m or less. Null for no class, or a text that is none of the
 * standard's: it gives no number.
 */
export function toolClassShare(toolClass: string | null, maxNm: number): number | null {
  if (toolClass === null || !CLASS.test(toolClass.trim())) return null
  return maxNm <= 10 ? 0.06 : 0.04
}
