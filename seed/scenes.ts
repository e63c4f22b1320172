import { startOfDayMs } from '../src/core/calendar.ts'
import type { HandClock } from '../src/platform/clock.ts'
import { TIME_ZONE } from './people.ts'

/** Something that happens at a moment of the story. */
export interface Scene {
  at: number
  play(): void
}

/** The instant of a day and a time on the wall of the workshop: at('2031-11-04', 8, 50). */
export function at(day: string, hour: number, minute = 0): number {
  return startOfDayMs(day, TIME_ZONE) + (hour * 60 + minute) * 60_000
}

/** Plays scenes in the order of time, each with the clock set to it. A scene may move the clock on within itself. */
export function playScenes(clock: HandClock, scenes: Scene[]): void {
  for (const scene of scenes.toSorted((one, other) => one.at - other.at)) {
    clock.set(Math.max(scene.at, clock.now()))
    scene.play()
  }
}
