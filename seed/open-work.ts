import type { Scene } from './scenes.ts'
import type { Story } from './visits.ts'

export function openWorkScenes(_story: Story): Scene[] {
  return []
}
