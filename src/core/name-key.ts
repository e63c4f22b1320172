/**
 * What makes two names the same name: the letters without their case, blanks around them left out and blanks between
 * them taken as one. Accents count: two words that differ in an accent are two words.
 *
 * @example nameKey(' Rear  Wheel bearing') === nameKey('rear wheel bearing') // true
 */
export function nameKey(name: string): string {
  return name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase()
}
