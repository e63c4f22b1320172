import type { FastenerEvent, Verdict } from '../../core/vocabulary.ts'

/** What the lines of a fastening record are made from: a torque record, as it was written down. */
export interface Recorded {
  id: string
  position: number
  stage: number
  fastener: number
  made_at: number
  verdict: Verdict | null
  event: FastenerEvent | null
  supersedes_id: string | null
  withdrawn: boolean | null
  conformance_probability: number | null
}

/** `first` is what was written down when it was done: by whoever did it, not by whoever put it right since. */
interface Stated<R extends Recorded> {
  record: R
  put_right: boolean
  first: R
}

/** One pass of one fastener over the stages. `stages[n]` holds what was recorded at stage n + 1, the last of each list standing. */
export interface FasteningLine<R extends Recorded> {
  position: number
  fastener: number
  stages: Stated<R>[][]
  /** What stands last in it. */
  last: R
  /** The lowest chance of conforming of what stands in it; null where nothing was measured. */
  chance: number | null
  /** The last line of its position: the fastener that is there now. */
  now: boolean
  /** Another fastener came in its place. */
  taken_out: boolean
}

/**
 * Everything that was recorded on a joint as lines: position by position in tightening order, each fastener and each pass of
 * its stages a line of its own. What was put right stays in its place before what stands. What turned out to have been on
 * another fastener stands there, and what was not done nowhere: of both the notes of the record tell.
 */
export function fasteningLines<R extends Recorded>(
  order: readonly number[],
  stageCount: number,
  records: readonly R[],
): FasteningLine<R>[] {
  const rightedBy = new Map(records.map(record => [record.supersedes_id, record]))
  const chains = records
    .filter(record => record.supersedes_id === null)
    .map(record => chainFrom(record, rightedBy))
    .filter(chain => !chain.at(-1)!.withdrawn)
  return order.flatMap(position => {
    const own = chains.filter(chain => chain.at(-1)!.position === position)
    const lines: FasteningLine<R>[] = []
    for (const chain of own) {
      const standing = chain.at(-1)!
      if (standing.event === 'replaced') continue
      const open = lines.at(-1)
      const line = open !== undefined && goesOn(open, standing) ? open : begun(lines, position, standing, stageCount)
      const here = chain.filter(each => each.position === position && !each.withdrawn)
      line.stages[standing.stage - 1]?.push(
        ...here.map(each => ({ record: each, put_right: each !== standing, first: chain[0]! })),
      )
      line.last = standing
      // what slipped, broke or could not be read conforms to nothing, whatever its earlier stages did
      if (standing.event !== null) line.chance = null
      else if (standing.conformance_probability !== null)
        line.chance = Math.min(line.chance ?? 1, standing.conformance_probability)
    }
    const newest = Math.max(0, ...own.map(chain => chain.at(-1)!.fastener))
    for (const [at, line] of lines.entries()) {
      line.now = at === lines.length - 1
      line.taken_out = line.fastener < newest
    }
    return lines
  })
}

function chainFrom<R extends Recorded>(record: R, rightedBy: ReadonlyMap<string | null, R>): R[] {
  const chain = [record]
  for (let next = rightedBy.get(record.id); next !== undefined; next = rightedBy.get(next.id)) chain.push(next)
  return chain
}

/** The same fastener, further on; a torque that is only read once more stays in its place. */
function goesOn<R extends Recorded>({ fastener, last }: FasteningLine<R>, record: R): boolean {
  const isGood = last.verdict === 'conforms' || last.verdict === 'as_set'
  return fastener === record.fastener && isGood && record.stage >= last.stage
}

function begun<R extends Recorded>(lines: FasteningLine<R>[], position: number, record: R, stageCount: number) {
  const line: FasteningLine<R> = {
    ...{ position, fastener: record.fastener, last: record, chance: null, now: false, taken_out: false },
    stages: Array.from({ length: stageCount }, () => []),
  }
  lines.push(line)
  return line
}
