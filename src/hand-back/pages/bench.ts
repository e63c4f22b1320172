import type { Pages } from '../../platform/http/pages.ts'
import { checkPages } from './bench/checks.ts'
import { findingPages } from './bench/findings.ts'
import { forgottenClockPages } from './bench/forgotten-clock.ts'
import { jobCardPages } from './bench/job-card.ts'
import { jointPages } from './bench/joint.ts'
import { skipLookPages } from './bench/looks.ts'
import { noPhotoPages } from './bench/marks.ts'
import { myJobsPages } from './bench/my-jobs.ts'
import { notUsedPages } from './bench/not-used.ts'
import { openAgainPages } from './bench/open-again.ts'
import { toolOutPages } from './bench/tool-out.ts'

/** The technician's pages. */
export function benchPages(pages: Pages): void {
  myJobsPages(pages)
  jobCardPages(pages)
  jointPages(pages)
  skipLookPages(pages)
  openAgainPages(pages)
  forgottenClockPages(pages)
  noPhotoPages(pages)
  notUsedPages(pages)
  toolOutPages(pages)
  findingPages(pages)
  checkPages(pages)
}
