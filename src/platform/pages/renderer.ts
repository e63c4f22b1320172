import { readdirSync, readFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import Handlebars from 'handlebars'
import { HELPERS } from './helpers.ts'

export interface Renderer {
  /**
   * One page as HTML. `name` is the template's path without its ending ('take-in/vehicle'); `view` is a plain object of
   * formatted strings and flags (class instances and getters print nothing).
   */
  render(name: string, view: object): string
}

export interface RendererOptions {
  templatesDir: string
  /** Read and compile everything again before each page, for whoever is writing templates. */
  dev?: boolean
}

const COMPILE = {
  // an unknown name is a mistake, not an empty place
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: Object.fromEntries(Object.keys(HELPERS).map(name => [name, true])),
  // indenting what a partial printed would put spaces into every textarea
  preventIndent: true,
}

/**
 * Reads and compiles every template under `templatesDir`, once. Each may be included by its path; those under partials/
 * without that folder (`{{> table jobs}}`), layouts with it (`{{#> layouts/page}}`).
 */
export function createRenderer({ templatesDir, dev = false }: RendererOptions): Renderer {
  let templates = compileAll(templatesDir)
  return {
    render(name, view) {
      if (dev) templates = compileAll(templatesDir)
      const template = templates.get(name)
      if (template === undefined) throw new Error(`There is no template ${name} under ${templatesDir}`)
      try {
        return template(view)
      } catch (cause) {
        throw new Error(`Template ${name}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause })
      }
    },
  }
}

/** The names and files of all templates; a file's name is its path without '.hbs' and without 'partials/'. */
export function templateFiles(templatesDir: string): { name: string; file: string }[] {
  return readdirSync(templatesDir, { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && entry.name.endsWith('.hbs'))
    .map(entry => join(entry.parentPath, entry.name))
    .sort()
    .map(file => {
      const path = relative(templatesDir, file).split(sep).join('/').slice(0, -'.hbs'.length)
      return { file, name: path.startsWith('partials/') ? path.slice('partials/'.length) : path }
    })
}

function compileAll(templatesDir: string): Map<string, HandlebarsTemplateDelegate> {
  const env = Handlebars.create()
  env.registerHelper(HELPERS)
  const compiled = new Map<string, HandlebarsTemplateDelegate>()
  for (const { name, file } of templateFiles(templatesDir)) {
    const template = compileOne(env, file)
    env.registerPartial(name, template)
    compiled.set(name, template)
  }
  return compiled
}

function compileOne(env: typeof Handlebars, file: string): HandlebarsTemplateDelegate {
  const source = readFileSync(file, 'utf8')
  try {
    // compile() waits for the first use; this finds a mistake at start instead
    env.precompile(source, COMPILE)
    return env.compile(source, COMPILE)
  } catch (cause) {
    throw new Error(`${file}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause })
  }
}
