/** Who may import whom: the one table. imports.test.ts enforces it; DEVELOPERS.md tells it in words, with the same order. */

/** Capabilities in their order: each may use only those before it. */
export const CAPABILITIES = [
  'accounts',
  'vehicles',
  'catalogue',
  'parts',
  'tools',
  'work-orders',
  'fastening',
  'findings',
  'attachments',
  'history',
  'recurring-failures',
  'comebacks',
  'warranty',
  'hand-back',
  'take-in',
  'month-review',
  'exchange',
  'backup',
]

/** Packages that may appear in some places only; every other package is `npm`, and what Node brings is `node`. */
export const GUARDED_PACKAGES: [RegExp, string][] = [
  [/^(fastify|fastify-.*|@fastify\/.*)$/, 'fastify'],
  [/^drizzle-orm(\/.*)?$/, 'drizzle-orm'],
  [/^handlebars$/, 'handlebars'],
  [/^better-sqlite3$/, 'better-sqlite3'],
  [/^zod$/, 'zod'],
  [/^(@stdlib\/.*|temporal-polyfill|d3-scale|d3-shape|d3-array|fastest-levenshtein)$/, 'pure libraries'],
]

const LIBRARIES = ['zod', 'pure libraries', 'npm', 'node']
const OWN = ['own contract', 'own schema', 'own rules', 'own queries', 'own service']
const STARTS = [
  'core',
  'platform',
  'platform/http',
  'platform/forms',
  'platform/pages',
  'any capability',
  'start',
  ...LIBRARIES,
]

/**
 * Place -> what files there may import. A capability's places are its file names; `rules/…`, `service/…` and so on count
 * as the file that they were split from, and any other file of the folder counts as `service`. `platform` as a target is
 * all of it but http, forms and pages, which are named by themselves.
 */
export const RULES: Record<string, string[]> = {
  core: ['core', 'pure libraries'],
  platform: ['core', 'platform', ...LIBRARIES],
  'platform/database': ['core', 'platform', 'drizzle-orm', 'better-sqlite3', ...LIBRARIES],
  'platform/forms': ['core', 'platform', 'platform/forms', 'platform/pages', ...LIBRARIES],
  'platform/pages': ['core', 'platform', 'platform/forms', 'platform/pages', 'handlebars', ...LIBRARIES],
  'platform/http': ['core', 'platform', 'platform/forms', 'platform/pages', 'platform/http', 'fastify', ...LIBRARIES],
  contract: ['zod', 'core', 'platform/contract', 'own contract', 'earlier contract'],
  schema: [
    'drizzle-orm',
    'core',
    'platform/database/columns',
    'platform/database/schema',
    'own schema',
    'earlier schema',
  ],
  rules: ['core', 'own rules'],
  queries: ['drizzle-orm', 'core', 'platform/database', 'own queries', 'own schema', 'earlier schema'],
  service: ['core', 'platform', ...OWN, 'earlier index', ...LIBRARIES],
  api: [
    'fastify',
    'zod',
    'core',
    'platform',
    'platform/http',
    'own contract',
    'own service',
    'own api',
    'earlier contract',
  ],
  pages: [
    ...['fastify', 'zod', 'core', 'platform', 'platform/http', 'platform/forms', 'platform/pages'],
    ...['own contract', 'own rules', 'own service', 'own pages', 'earlier contract', 'earlier index'],
  ],
  index: ['own contract', 'own rules', 'own service'],
  backup: ['core', 'platform', 'own service', 'earlier index', 'better-sqlite3', ...LIBRARIES],
  app: ['fastify', ...STARTS],
  start: [...STARTS, 'seed'],
}

/** May write every table of the record, through one loader that refuses a database with rows. */
export const MAY_WRITE_ALL = ['exchange']
