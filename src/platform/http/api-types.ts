import type { FastifyInstance } from 'fastify'
import type { z } from 'zod'
import type { Role } from '../../core/vocabulary.ts'
import type { Context, Deps } from '../context.ts'
import type { Files, TakesFiles } from './uploads.ts'

/** What api.ts files say about their routes; see api-route.ts. */
export interface Api {
  app: FastifyInstance
  deps: Deps
}

/** `{ id: string }` for '/vehicles/:id'. */
export type ParamsOf<Url extends string> = Url extends `${string}:${infer Name}/${infer Rest}`
  ? { [K in Name]: string } & ParamsOf<`/${Rest}`>
  : Url extends `${string}:${infer Name}`
    ? { [K in Name]: string }
    : unknown

export interface Outcome<Wire> {
  record: Wire
  /** The version of a record that people edit: its ETag. */
  version?: number
  /** Of a created record; left out, it is the request's path and `/<record.id>`. */
  location?: string
}

export interface Described<Url extends string> {
  url: Url
  /** One line for the API document, as a sentence: 'Adds a vehicle.' */
  summary: string
  /** Who may, besides the owner; `[]` is the owner alone. Left out (reads and computing only): any login. */
  roles?: Role[]
}

export interface ReadRoute<Url extends string, Query extends z.ZodObject, Wire extends z.ZodType>
  extends Described<Url> {
  query?: Query
  answer: Wire
  handle(
    ctx: Context,
    input: { params: ParamsOf<Url>; query: z.output<Query> },
  ): Outcome<z.input<Wire>> | Promise<Outcome<z.input<Wire>>>
}

export interface ListRoute<Url extends string, Query extends z.ZodObject, Item extends z.ZodType>
  extends Described<Url> {
  query?: Query
  item: Item
  /** `limit` records after `cursor` (text that an earlier `next` gave), and the text from which the next page goes on. */
  handle(
    ctx: Context,
    input: { params: ParamsOf<Url>; query: z.output<Query>; page: PageAsked },
  ): ListPage<z.input<Item>>
}

export interface PageAsked {
  limit: number
  cursor: string | null
}

export interface ListPage<Item> {
  items: Item[]
  next: string | null
}

export interface WriteRoute<Url extends string, Body extends z.ZodType, Wire extends z.ZodType, Prepared>
  extends Described<Url> {
  method: 'POST' | 'PATCH' | 'PUT'
  roles: Role[]
  /** A body that is left out counts as `{}`. */
  body: Body
  answer: Wire
  /** Left out: 201 for POST, 200 otherwise. */
  status?: 200 | 201
  /** Whether If-Match is needed. Left out: for PATCH and PUT. */
  ifMatch?: boolean
  /** Takes multipart/form-data too: the fields by the contract, the files beside it. */
  uploads?: TakesFiles
  /** What must not run inside the transaction: hashing, pictures. */
  prepare?(ctx: Context, input: WriteInput<Url, Body>): Promise<Prepared>
  /** Runs inside one transaction with its event, the key and the stored answer. Synchronous. */
  handle(ctx: Context, input: WriteInput<Url, Body> & { prepared: Prepared }): Outcome<z.input<Wire>>
}

export interface WriteInput<Url extends string, Body extends z.ZodType> {
  params: ParamsOf<Url>
  body: z.output<Body>
  /** From If-Match; 0 when the route needs none. */
  version: number
  files: Files
}

export interface ComputeRoute<Url extends string, Body extends z.ZodType, Wire extends z.ZodType>
  extends Described<Url> {
  body: Body
  answer: Wire
  handle(ctx: Context, input: { params: ParamsOf<Url>; body: z.output<Body> }): z.input<Wire> | Promise<z.input<Wire>>
}
