export { backup } from './backup.ts'
export { type Restored, restore } from './restore.ts'
