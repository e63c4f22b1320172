/** A line of a version, as it was reckoned; money in minor units. */
export interface VersionLine {
  kind: string
  job_id?: string | undefined
  part_id?: string | undefined
  text: string
  quantity: number
  unit_minor: number
  line_minor: number
}

export interface LineChange {
  text: string
  what: 'new' | 'gone' | 'changed'
  before: VersionLine | null
  after: VersionLine | null
}

/**
 * What a version of an estimate changed against the one before it: lines by what they are for (job, part, text), each once; the
 * order says nothing. Lines that are the same are left out.
 */
export function estimateChanges(before: readonly VersionLine[], after: readonly VersionLine[]): LineChange[] {
  const left = [...before]
  const changes = after.flatMap((line): LineChange[] => {
    const at = left.findIndex(each => isForTheSame(each, line))
    if (at < 0) return [{ text: line.text, what: 'new', before: null, after: line }]
    const [was] = left.splice(at, 1)
    const isSame = was!.quantity === line.quantity && was!.unit_minor === line.unit_minor
    return isSame ? [] : [{ text: line.text, what: 'changed', before: was!, after: line }]
  })
  return [...changes, ...left.map(line => ({ text: line.text, what: 'gone' as const, before: line, after: null }))]
}

function isForTheSame(one: VersionLine, other: VersionLine): boolean {
  const isPart = one.part_id !== undefined && one.part_id === other.part_id
  return one.kind === other.kind && one.job_id === other.job_id && (isPart || one.text === other.text)
}
