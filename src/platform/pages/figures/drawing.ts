/**
 * A drawing as data: numbers and words, no markup. partials/drawing.hbs prints it as SVG. `mark` names the classes of the
 * style sheet, and every coordinate is in the units of the drawing, rounded to a tenth.
 */
export interface Drawing {
  /** Unique on its page; title and description get ids made from it. */
  id: string
  width: number
  height: number
  title: string
  /** What the drawing says, in words, for whoever cannot see it. */
  description: string
  /** 'group' when it holds links. */
  role: 'img' | 'group'
  /** Which of two twins it is ('wide-drawing', 'narrow-drawing', 'very-wide-drawing'), or ''. */
  classes: string
  shapes: Shape[]
}

export type Shape =
  | { line: true; mark: string; x1: number; y1: number; x2: number; y2: number }
  | { rect: true; mark: string; x: number; y: number; width: number; height: number; radius: number }
  | { circle: true; mark: string; cx: number; cy: number; r: number; dash: string | null }
  | { path: true; mark: string; d: string }
  | { text: true; mark: string; x: number; y: number; anchor: Anchor | null; spans: Span[] }
  | { link: true; href: string; label: string; shapes: Shape[] }
  | { group: true; label: string; shapes: Shape[] }

export type Anchor = 'middle' | 'end'
export interface Span {
  words: string
  mark: string
}

/** To a tenth of a unit, and never minus zero. */
export function tenth(value: number): number {
  return Math.round(value * 10) / 10 + 0
}

export function line(mark: string, x1: number, y1: number, x2: number, y2: number): Shape {
  return { line: true, mark, x1: tenth(x1), y1: tenth(y1), x2: tenth(x2), y2: tenth(y2) }
}

export function rect(mark: string, x: number, y: number, width: number, height: number, radius = 0): Shape {
  return { rect: true, mark, x: tenth(x), y: tenth(y), width: tenth(width), height: tenth(height), radius }
}

export function circle(mark: string, cx: number, cy: number, r: number, dash: string | null = null): Shape {
  return { circle: true, mark, cx: tenth(cx), cy: tenth(cy), r: tenth(r), dash }
}

export function path(mark: string, d: string): Shape {
  return { path: true, mark, d }
}

/** Words at a point; several spans share the line, each with its own mark. */
export function text(mark: string, x: number, y: number, words: string | Span[], anchor: Anchor | null = null): Shape {
  const spans = typeof words === 'string' ? [{ words, mark: '' }] : words
  return { text: true, mark, x: tenth(x), y: tenth(y), anchor, spans }
}

/** A polyline as path data. */
export function polyline(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], place) => `${place === 0 ? 'M' : 'L'}${tenth(x)} ${tenth(y)}`).join('')
}

/** The cross of a failure. */
export function cross(x: number, y: number, reach = 7): Shape {
  const [left, right, top, bottom] = [tenth(x - reach), tenth(x + reach), tenth(y - reach), tenth(y + reach)]
  return path('cross', `M${left} ${top}L${right} ${bottom}M${left} ${bottom}L${right} ${top}`)
}

/**
 * About how wide words are in the form's typeface at 14 units: 6.4 a character, a little over its average, so that what is
 * placed by it does not touch. Exact widths would need the font.
 */
export function roughWidth(words: string, perCharacter = 6.4): number {
  return words.length * perCharacter
}
