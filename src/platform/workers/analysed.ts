import { setTimeout } from 'node:timers/promises'
import type { Context, Progress } from '../context.ts'
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
  progress: Progress | null
  /** When it was there, in milliseconds of the machine; null while it is being worked out. */
  ended: number | null
  /** A page has stopped waiting for it and asks again. */
  awaited: boolean
}

/** It is still being worked out; how far, where that is known. A page that lets this through says so and asks again. */
export class StillWorking extends Error {
  readonly progress: Progress | null
  constructor(progress: Progress | null) {
    super('It is still being worked out.')
    this.progress = progress
  }
}

/** How long a page that asked again takes what was worked out for it. */
const GOOD_FOR_MS = 10_000

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
  const kept = keptOf(ctx.store)
  const now = ctx.clock.now()
  // zones differ by whole quarters of an hour, and a day begins in one of them
  const seen = `${chainHead(ctx.store.raw).seq} ${Math.floor(now / (DAY_MS / 96))}`
  const name = nameOf(task, question)
  const before = kept.get(name)
  kept.delete(name)
  const entry = before?.seen === seen ? before : begun(ctx, seen, task, question, workOut)
  kept.set(name, entry)
  entry.answer.catch(() => {
    if (kept.get(name) === entry) kept.delete(name)
  })
  for (const oldest of kept.keys()) {
    if (kept.size <= MOST_KEPT) break
    kept.delete(oldest)
  }
  return entry.answer as Promise<Answer>
}

/**
 * The same for a page: it waits as long as its reader has patience, and then throws `StillWorking`. Asked again it joins what is under way, and takes it
 * when it is there, even if something was written meanwhile: in a busy workshop it would never see the end of it otherwise.
 */
export async function analysedSoon<Question, Answer>(
  ctx: Context,
  task: string,
  question: Question,
  workOut: (ctx: Context, question: Question) => Answer,
): Promise<Answer> {
  const name = nameOf(task, question)
  const before = keptOf(ctx.store).get(name)
  const isMine = before?.awaited === true && (before.ended === null || performance.now() - before.ended < GOOD_FOR_MS)
  const answer = isMine ? (before.answer as Promise<Answer>) : analysed(ctx, task, question, workOut)
  const entry = keptOf(ctx.store).get(name)
  if (ctx.patience_ms === undefined) return answer
  const isThere = await Promise.race([answer.then(() => true), setTimeout(ctx.patience_ms, false, { ref: false })])
  if (isThere || entry === undefined) return answer
  entry.awaited = true
  throw new StillWorking(entry.progress)
}

function keptOf(store: Store): Map<string, KeptAnswer> {
  const kept = KEPT.get(store) ?? new Map<string, KeptAnswer>()
  KEPT.set(store, kept)
  return kept
}

function nameOf(task: string, question: unknown): string {
  return `${task} ${JSON.stringify(question)}`
}

function begun<Question, Answer>(
  ctx: Context,
  seen: string,
  task: string,
  question: Question,
  workOut: (ctx: Context, question: Question) => Answer,
): KeptAnswer {
  const entry: KeptAnswer = { seen, answer: Promise.resolve(), progress: null, ended: null, awaited: false }
  const tell = (progress: Progress) => {
    entry.progress = progress
  }
  const end = () => {
    entry.ended = performance.now()
  }
  entry.answer = worked({ ...ctx, tell }, task, question, workOut)
  entry.answer.then(end, end)
  return entry
}

async function worked<Question, Answer>(
  ctx: Context,
  task: string,
  question: Question,
  workOut: (ctx: Context, question: Question) => Answer,
): Promise<unknown> {
  const computing = computingOf(ctx.store)
  return computing === undefined ? workOut(ctx, question) : computing.ask(task, question, ctx.clock.now(), ctx.tell)
}
