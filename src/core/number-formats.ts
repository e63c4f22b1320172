const formats = new Map<string, Intl.NumberFormat>()

/**
 * A number format of a locale. Making one takes as long as writing a hundred numbers with it, so each that a workshop's few
 * settings ask for is made once and kept; nothing about it ever changes.
 *
 * @throws RangeError for no locale, or no currency code among the options.
 */
export function numberFormat(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${JSON.stringify(options)}`
  const known = formats.get(key)
  if (known !== undefined) return known
  const made = new Intl.NumberFormat(locale, options)
  formats.set(key, made)
  return made
}
