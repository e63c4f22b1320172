// npm test: sees to a browser, then types, style and every test. Words after `npm test --` go to vitest.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const BROWSERS = ['/usr/bin/chromium', '/usr/bin/chromium-browser']
const isCi = !['', '0', 'false', undefined].includes(process.env.CI)

function run(command, words, more = {}) {
  const { status, error } = spawnSync(command, words, { cwd: root, stdio: 'inherit', ...more })
  return error ? 1 : (status ?? 1)
}

/** A tool of this project, started without npx: the same file on every machine. */
function tool(name, words, env = process.env) {
  return run(path.join(root, 'node_modules/.bin', name), words, { env })
}

function findBrowser() {
  return [process.env.CHROMIUM, ...BROWSERS].find(file => file && existsSync(file))
}

function installBrowser() {
  const isRoot = process.getuid?.() === 0
  if (!isRoot || !existsSync('/usr/bin/apt-get')) return
  console.log('No browser: installing Debian’s chromium for the browser tests.')
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  if (run('apt-get', ['update', '-qq'], { env }) === 0) {
    run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], { env })
  }
}

/** The tests that a machine without a browser leaves out, each by its name: nobody shall think that they ran. */
function nameSkipped() {
  const { stdout } = spawnSync(
    path.join(root, 'node_modules/.bin/vitest'),
    ['list', '-c', 'tests/vitest.config.ts', '--project', 'browser'],
    {
      cwd: root,
      encoding: 'utf8',
    },
  )
  const names = stdout.split('\n').filter(line => line.includes(' > '))
  for (const name of names) console.log(`skipped, no browser: ${name}`)
  console.log(
    `${names.length} browser tests skipped. Install chromium (apt-get install chromium), or name one with CHROMIUM=/path/to/chromium.`,
  )
}

if (!existsSync(path.join(root, 'node_modules/.bin/vitest'))) {
  console.error('The dependencies are not installed. Run: npm ci')
  process.exit(1)
}
if (!findBrowser()) installBrowser()
const browser = findBrowser()
if (!browser && isCi) {
  console.error(
    'There is no browser, and CI is set: the browser tests must run here. Install chromium, or set CHROMIUM.',
  )
  process.exit(1)
}

const failed = []
if (tool('tsc', ['--noEmit']) !== 0) failed.push('types (tsc --noEmit)')
if (tool('biome', ['check', '--error-on-warnings', '.']) !== 0) failed.push('style (biome check)')
if (!browser) nameSkipped()

const words = process.argv.slice(2)
const without = browser || words.some(word => word.startsWith('--project')) ? [] : ['--project', '!browser']
const env = browser ? { ...process.env, CHROMIUM: browser } : process.env
const tests = tool('vitest', ['run', '-c', 'tests/vitest.config.ts', ...without, ...words], env)

for (const check of failed) console.error(`Failed before the tests: ${check}; see above.`)
process.exit(tests !== 0 ? tests : failed.length > 0 ? 1 : 0)
