import type { Context } from '../context.ts'
import { chainHead } from '../database/events.ts'
import type { Store } from '../database/open.ts'
import { computingOf } from './computing.ts'

/** Results that are kept for one database; the one not asked for longest goes first. */
const MOST_KEPT = 50
const DAY_MS = 24 * 60 * 60 * 1000

interface KeptAnswer {
  /** The newest event and the day it was worked out on. */
  seen: string
  answer: Promise<unknown>
}

const KEPT = new WeakMap<Store, Map<string, KeptAnswer>>()

/**
 * An analysis, worked out by the worker where there is one and here where there is none. The result is kept with the newest
 * event that it saw, and worked out again, whole, when that has moved on and somebody asks. Two who ask at once get one.
 *
 * @param task its name in worker.ts.
 * @param workOut the same, for a program without a worker.
 */
export function analysed<Question, Answer>(
  ctx: Context,
  task: string,
  question: Question,
  workOut: (ctx: Context, question: Question) => Answer,
): Promise<Answer> {
  const kept = KEPT.get(ctx.store) ?? new Map<string, KeptAnswer>()
  KEPT.set(ctx.store, kept)
  const now = ctx.clock.now()
  // zones differ by whole quarters of an hour, and a day begins in one of them
  const seen = `${chainHead(ctx.store.raw).seq} ${Math.floor(now / (DAY_MS / 96))}`
  const name = `${task} ${JSON.stringify(question)}`
  const before = kept.get(name)
  kept.delete(name)
  const answer = before?.seen === seen ? before.answer : worked(ctx, task, question, now, workOut)
  kept.set(name, { seen, answer })
  answer.catch(() => {
    if (kept.get(name)?.answer === answer) kept.delete(name)
  })
  for (const oldest of kept.keys()) {
    if (kept.size <= MOST_KEPT) break
    kept.delete(oldest)
  }
  return answer as Promise<Answer>
}

async function worked<Question, Answer>(
  ctx: Context,
  task: string,
  question: Question,
  now: number,
  workOut: (ctx: Context, question: Question) => Answer,
): Promise<unknown> {
  const computing = computingOf(ctx.store)
  return computing === undefined ? workOut(ctx, question) : computing.ask(task, question, now)
}
