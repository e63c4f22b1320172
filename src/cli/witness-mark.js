#!/usr/bin/env node
// The program is TypeScript that runs as it stands: tsx takes the types away while it loads.
import { register } from 'tsx/esm/api'

register()
await import('./main.ts')
