import { isWithinOneError } from '../../core/one-typing-error.ts'
import { hot } from '../../platform/database/hot.ts'
import type { Store } from '../../platform/database/open.ts'
import type { Read } from '../../platform/database/types.ts'
import { clientOf, writesOfOthers } from '../../platform/database/unwritten.ts'

/**
 * Where the one box looks: full-text indexes by three letters (FTS5, trigram) over everything that names a vehicle, its
 * keeper's names too, and everything that names a customer. Derived, so it is kept beside the connection (temporary tables and
 * triggers) and not in the file: it is made when somebody looks for the first time, and again after another process has written.
 */
type Kind = 'vehicles' | 'customers'

/** What is looked for: the whole of it as one folded word, and each of its words. */
interface Wanted {
  whole: string
  words: string[]
}

const KEYS: Record<Kind, string> = {
  vehicles: `select v.rowid as at, v.find_key || coalesce(c.find_key, '') as key
    from main.vehicles v
    left join main.keepers k on k.id = (select max(n.id) from main.keepers n where n.vehicle_id = v.id)
    left join main.customers c on c.id = k.customer_id`,
  customers: 'select rowid as at, find_key as key from main.customers',
}

/** After which writes which rows are read again. */
const AGAIN: { kind: Kind; after: string; rows: string }[] = [
  { kind: 'vehicles', after: 'insert on main.vehicles', rows: 'new.rowid' },
  { kind: 'vehicles', after: 'update of find_key on main.vehicles', rows: 'new.rowid' },
  {
    kind: 'vehicles',
    after: 'insert on main.keepers',
    rows: 'select rowid from main.vehicles where id = new.vehicle_id',
  },
  {
    kind: 'vehicles',
    after: 'update of find_key on main.customers',
    rows: 'select rowid from main.vehicles where id in (select vehicle_id from main.keepers where customer_id = new.id)',
  },
  { kind: 'customers', after: 'insert on main.customers', rows: 'new.rowid' },
  { kind: 'customers', after: 'update of find_key on main.customers', rows: 'new.rowid' },
]

function make(raw: Store['raw']): void {
  for (const [kind, keys] of Object.entries(KEYS)) {
    raw.exec(`drop table if exists temp.find_${kind}; drop view if exists temp.keys_of_${kind};
      create virtual table temp.find_${kind} using fts5(key, tokenize = 'trigram', content = '', contentless_delete = 1);
      create temp view keys_of_${kind} as ${keys};
      insert into temp.find_${kind} (rowid, key) select at, key from temp.keys_of_${kind}`)
  }
  for (const [nth, { kind, after, rows }] of AGAIN.entries()) {
    raw.exec(`drop trigger if exists temp.find_again_${nth};
      create temp trigger find_again_${nth} after ${after} begin
        delete from find_${kind} where rowid in (${rows});
        insert into find_${kind} (rowid, key) select at, key from keys_of_${kind} where at in (${rows});
      end`)
  }
}

const state = hot((raw: Store['raw']) => ({
  exists: raw.prepare("select 1 from temp.sqlite_schema where name = 'find_customers'").pluck(),
  made_at: undefined as unknown,
}))

/** The connection of a reader, with its index as things stand: one that a rollback took away is made again. */
function indexed(read: Read): Store['raw'] {
  const raw = clientOf(read)
  const now = state(raw)
  const others = writesOfOthers(read)
  if (now.exists.get() === undefined || now.made_at !== others) {
    make(raw)
    now.made_at = others
  }
  return raw
}

const vehicleIds = hot((raw: Store['raw']) =>
  raw
    .prepare(
      `with called as materialized (select rowid as at from temp.find_vehicles where find_vehicles match :called),
         within as (select rowid as at from temp.find_vehicles where find_vehicles match :within),
         hit as (
           select at, 0 as tier from called union all
           select at, 1 from within where at not in (select at from called)
           order by tier, at desc limit :limit offset :skip)
       select v.id from hit join main.vehicles v on v.rowid = hit.at order by hit.tier, hit.at desc`,
    )
    .pluck(),
)

/** Those called just so first, then the newest. */
export function findVehicleIds(read: Read, wanted: Wanted, limit: number, skip: number): string[] {
  return vehicleIds(indexed(read)).all({
    called: `" ${wanted.whole} "`,
    within: `${phrase(wanted.whole)} OR (${everyWord(wanted)})`,
    ...{ limit, skip },
  }) as string[]
}

const customerIds = hot((raw: Store['raw']) =>
  raw
    .prepare(
      `select c.id from temp.find_customers f join main.customers c on c.rowid = f.rowid
       where f.find_customers match :within and (:after is null or c.id < :after) order by f.rowid desc limit :limit`,
    )
    .pluck(),
)

/** Newest first; every word must be found; `after` is the id that the page before ended with. */
export function findCustomerIds(read: Read, wanted: Wanted, limit: number, after: string | null): string[] {
  return customerIds(indexed(read)).all({ within: everyWord(wanted), after, limit }) as string[]
}

/** So many of those that may be meant are held against what was typed, the newest first. */
const NEARLY_AT_MOST = 1000

function nearly(kind: Kind, table: string) {
  return hot((raw: Store['raw']) =>
    raw.prepare(
      `select t.id, k.key from (
         select rowid as at from temp.find_${kind} where find_${kind} match :left order by rowid desc limit ${NEARLY_AT_MOST}) f
       join temp.keys_of_${kind} k on k.at = f.at join main.${table} t on t.rowid = f.at`,
    ),
  )
}

const NEARLY = { vehicles: nearly('vehicles', 'vehicles'), customers: nearly('customers', 'customers') }

/**
 * Those that are called so but for one typing error, the newest first: in the whole of what was typed, or in one of its words.
 * An error leaves the rest of a word as it is, so that only what has that rest needs to be looked at.
 */
export function nearlyIds(read: Read, kind: Kind, wanted: Wanted, limit: number): string[] {
  const ways = waysToErr(wanted).filter(({ wrong }) => wrong.length >= LEAST_FOR_AN_ERROR)
  if (ways.length === 0) return []
  const left = ways.map(({ wrong, right }) => `(${[leftOf(wrong), ...right.map(phrase)].join(' AND ')})`).join(' OR ')
  const rows = NEARLY[kind](indexed(read)).all({ left }) as { id: string; key: string }[]
  const isMeant = (key: string) =>
    ways.some(
      ({ wrong, right }) =>
        right.every(word => key.includes(word)) && key.split(' ').some(name => isWithinOneError(wrong, name)),
    )
  return rows
    .filter(({ key }) => isMeant(key))
    .slice(0, limit)
    .map(row => row.id)
}

/** One word is wrong and the others are right; or, of a number typed with blanks in it, the whole is. */
function waysToErr({ whole, words }: Wanted): { wrong: string; right: string[] }[] {
  const isInPieces = words.some(word => word.length < LEAST_FOR_AN_ERROR)
  if (words.length === 1 || isInPieces) return [{ wrong: whole, right: [] }]
  return words.map((wrong, nth) => ({ wrong, right: words.toSpliced(nth, 1) }))
}

/** In a word of three letters one error leaves nothing to know it by. */
const LEAST_FOR_AN_ERROR = 4

/**
 * What a whole word with one error still has: for each place of the error all letters before it, from the beginning of the word, and
 * all after it, to its end, as far as either has the three letters that the index goes by.
 */
function leftOf(word: string): string {
  const ways = Array.from({ length: word.length }, (_, at) => {
    // the letter at this place may be wrong, missing, one too many, or swapped with the next
    const [before, after] = [` ${word.slice(0, at)}`, `${word.slice(at + 2)} `]
    const kept = [before, after].filter(part => part.length >= 3)
    return kept.map(part => `"${part}"`).join(' AND ')
  })
  return `(${[...new Set(ways)].filter(way => way !== '').join(' OR ')})`
}

function everyWord({ words }: Wanted): string {
  return words.map(phrase).join(' AND ')
}

/** Anywhere inside; what is shorter than three letters at the beginning of a word, or alone. */
function phrase(word: string): string {
  if (word.length === 1) return `" ${word} "`
  return word.length === 2 ? `" ${word}"` : `"${word}"`
}
