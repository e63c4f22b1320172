// The worker is TypeScript that runs as it stands, like the program itself: tsx takes the types away while it loads.
import { register } from 'tsx/esm/api'

register()
await import('../worker.ts')
