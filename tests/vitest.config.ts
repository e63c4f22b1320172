import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

const root = fileURLToPath(new URL('..', import.meta.url))

/**
 * Nothing at module level holds state, so test files share a process: several times faster than one process a file. The
 * time-out is for a busy machine; no test is about time.
 */
const shared = {
  isolate: false,
  setupFiles: ['tests/support/setup.ts'],
  testTimeout: 60_000,
  hookTimeout: 60_000,
  // every core: left alone, vitest keeps one of them for itself
  maxWorkers: '100%',
}

export default defineConfig({
  root,
  test: {
    projects: [
      { root, test: { ...shared, name: 'core', include: ['tests/core/**/*.test.ts'], pool: 'threads' } },
      {
        root,
        test: { ...shared, name: 'architecture', include: ['tests/architecture/**/*.test.ts'], pool: 'threads' },
      },
      {
        root,
        test: {
          ...shared,
          name: 'database',
          include: ['tests/database/**/*.test.ts'],
          pool: 'forks',
        },
      },
      {
        root,
        test: { ...shared, name: 'http', include: ['tests/http/**/*.test.ts'], pool: 'forks' },
      },
      {
        root,
        test: {
          ...shared,
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          pool: 'forks',
          // one browser, after everything else
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
          testTimeout: 240_000,
          hookTimeout: 240_000,
        },
      },
    ],
  },
})
