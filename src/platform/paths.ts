import path from 'node:path'
import { fileURLToPath } from 'node:url'

/** The folder of package.json: two folders up, the same from src/platform and from dist/platform. */
export const packageRoot = fileURLToPath(new URL('../..', import.meta.url))

export const migrationsFolder = path.join(packageRoot, 'migrations')
