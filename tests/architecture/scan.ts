import fs from 'node:fs'
import path from 'node:path'
import { CAPABILITIES, GUARDED_PACKAGES, MAY_WRITE_ALL, RULES } from './rules.ts'

/** Source files by path, relative to the folder of package.json. */
export type Sources = Map<string, string>

export function readTree(root: string, folder: string): Sources {
  const names = fs.readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' })
  const files = names.map(name => path.posix.join(folder, name)).filter(name => /\.(ts|js)$/.test(name))
  return new Map(files.sort().map(file => [file, fs.readFileSync(path.join(root, file), 'utf8')]))
}

/** Every static, re-exported, dynamic and type-only import, `import type` and `typeof import()` among them. */
const IMPORT =
  /(?:^|\n)\s*(?:import|export)\s[\w\s{},*$]*?\bfrom\s*['"]([^'"\n]+)['"]|\bimport\(\s*['"]([^'"\n]+)['"]\s*\)|(?:^|\n)\s*import\s*['"]([^'"\n]+)['"]/g

export function importsOf(text: string): string[] {
  return [...text.matchAll(IMPORT)].map(match => match[1] ?? match[2] ?? match[3] ?? '')
}

/** The file that a relative import names, as `Sources` has it. */
function resolved(file: string, target: string): string {
  return path.posix.join(path.posix.dirname(file), target)
}

interface Place {
  folder: string
  /** `contract`, `schema` … in a capability; the place in the rule table elsewhere. */
  role: string
}

const ROLES = ['contract', 'schema', 'rules', 'queries', 'api', 'pages', 'index']

function placeOf(file: string): Place | null {
  const [top, folder = '', second = ''] = file.split('/')
  if (top === 'seed') return { folder: 'seed', role: 'seed' }
  if (top !== 'src') return null
  if (folder === 'core') return { folder, role: 'core' }
  if (folder === 'platform') {
    const part = `platform/${second}`
    return { folder, role: part in RULES ? part : 'platform' }
  }
  if (folder === 'app.ts') return { folder: 'start', role: 'app' }
  if (folder.endsWith('.ts') || folder === 'cli') return { folder: 'start', role: 'start' }
  if (!CAPABILITIES.includes(folder)) return null
  const name = second.replace(/\.ts$/, '')
  return { folder, role: ROLES.includes(name) ? name : 'service' }
}

/** The row of the rule table for a file. */
export function ruleOf(file: string): string {
  const place = placeOf(file)
  if (place === null) return 'nowhere'
  return place.folder === 'backup' && place.role === 'service' ? 'backup' : place.role
}

function wordsForPackage(name: string): string[] {
  if (name.startsWith('node:')) return ['node']
  return [GUARDED_PACKAGES.find(([pattern]) => pattern.test(name))?.[1] ?? 'npm']
}

/** The words of the rule table under which `file` may be allowed to import `target`. */
function wordsFor(file: string, target: string): string[] {
  if (!target.startsWith('.')) return wordsForPackage(target)
  const from = placeOf(file)
  const name = resolved(file, target)
  const to = placeOf(name)
  if (from === null || to === null) return []
  if (to.folder === 'platform') {
    const isApart = ['platform/http', 'platform/forms', 'platform/pages'].includes(to.role)
    return [to.role, name.replace(/^src\/|\.ts$/g, ''), ...(isApart ? [] : ['platform'])]
  }
  if (['core', 'seed', 'start'].includes(to.folder)) return [to.folder]
  if (from.folder === to.folder) return [`own ${to.role}`]
  const isEarlier = CAPABILITIES.indexOf(to.folder) < CAPABILITIES.indexOf(from.folder)
  return ['any capability', ...(isEarlier ? [`earlier ${to.role}`] : [])]
}

/** The imports of a file that the rule table does not allow there. */
export function brokenImports(file: string, text: string): string[] {
  const allowed = RULES[ruleOf(file)] ?? []
  return importsOf(text).filter(target => !wordsFor(file, target).some(word => allowed.includes(word)))
}

/** Rings of files that import each other, each told once, from its first file. */
export function cycles(sources: Sources): string[][] {
  const found: string[][] = []
  const done = new Set<string>()
  const visit = (file: string, trail: string[]): void => {
    const at = trail.indexOf(file)
    if (at >= 0) found.push([...trail.slice(at), file])
    if (at >= 0 || done.has(file)) return
    const targets = importsOf(sources.get(file) ?? '').filter(target => target.startsWith('.'))
    for (const target of targets) visit(resolved(file, target), [...trail, file])
    done.add(file)
  }
  for (const file of sources.keys()) visit(file, [])
  return found
}

const IMPURE =
  /Date\.now|new Date\(\s*\)|Math\.random|\bprocess\.|console\.|performance\.|Temporal\.Now|\bcrypto\b|setTimeout/

export function isImpure(text: string): boolean {
  return IMPURE.test(text.replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, ''))
}

function tablesIn(text: string): string[] {
  return [...text.matchAll(/sqliteTable\(\s*'(\w+)'/g)].map(match => match[1]!)
}

/** Names that a file has from the schema.ts of another folder, `* as` names among them. */
function namesFromOtherSchemas(file: string, text: string): string[] {
  const imports = text.matchAll(/import\s+(?:type\s+)?([\w\s{},*]+?)\s+from\s*'([^']+schema\.ts)'/g)
  return [...imports]
    .filter(([, , target]) => placeOf(resolved(file, target!))?.folder !== placeOf(file)?.folder)
    .flatMap(([, names]) =>
      names!
        .replace(/[{}]|\*|\btype\b/g, '')
        .split(',')
        .map(name =>
          name
            .trim()
            .split(/\s+as\s+/)
            .pop()!
            .replace(/^as\s+/, ''),
        ),
    )
}

/** Writes to tables of another folder, by the query builder or in SQL: each table has one writer. */
export function foreignWrites(file: string, text: string, sources: Sources): string[] {
  const folder = placeOf(file)?.folder ?? ''
  if (MAY_WRITE_ALL.includes(folder)) return []
  const others = new Set(
    [...sources]
      .filter(([name]) => name.endsWith('schema.ts') && placeOf(name)?.folder !== folder)
      .flatMap(([, schema]) => tablesIn(schema)),
  )
  const imported = namesFromOtherSchemas(file, text)
  const built = [...text.matchAll(/\.(?:insert|update|delete)\(\s*(\w+)/g)].map(match => match[1]!)
  const written = [
    ...text.matchAll(/\b(?:insert(?: or \w+)? into|update|delete from|replace into)\s+["'`]?(\w+)/gi),
  ].map(match => match[1]!)
  return [...built.filter(name => imported.includes(name)), ...written.filter(name => others.has(name))]
}

/** What is left lying about: tests switched off, checks switched off, notes to oneself. */
export function leftovers(text: string): string[] {
  return (
    text.match(
      /@ts-(?:ignore|expect-error|nocheck)|\b(?:it|test|describe)\.(?:skip|only|todo)\b|\bTO\x44O\b|\bFIX\x4dE\b/g,
    ) ?? []
  )
}
