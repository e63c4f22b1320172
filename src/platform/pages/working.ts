import { grouped } from '../../core/words.ts'
import type { Progress } from '../context.ts'
import type { Sheet } from './page-view.ts'

const ASK_AGAIN_S = 2

/** The page in place of one whose numbers are still being worked out: how far they are. It asks again by itself. */
export function workingPage(progress: Progress | null): { template: string; sheet: Sheet; view: object } {
  return {
    template: 'errors/working',
    sheet: { title: 'Being worked out', refresh_s: ASK_AGAIN_S },
    view: {
      progress:
        progress === null
          ? null
          : {
              ...progress,
              says: `${grouped(String(progress.done))} of ${grouped(String(progress.of))} ${progress.what}`,
            },
    },
  }
}
