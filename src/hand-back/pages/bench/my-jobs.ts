import { settingsOf } from '../../../accounts/index.ts'
import { localTimeOf } from '../../../core/calendar.ts'
import { capital, listed } from '../../../core/words.ts'
import { inDoubtBriefly, openDoubts } from '../../../fastening/index.ts'
import { pageRead } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { column, table } from '../../../platform/pages/table.ts'
import { link, plate, ref, strong, type Words, words } from '../../../platform/pages/words.ts'
import { inOneClause } from '../../rules/blockers.ts'
import { type JobInHouse, jobsInHouse, toolsInVehicles } from '../../service/bench/my-jobs.ts'
import { forgottenClock } from './forgotten-clock.ts'
import { cardHref } from './links.ts'

/** The jobs of every vehicle in the house, with the next thing to do on each; and the tools that are in vehicles now. */
export function myJobsPages(pages: Pages): void {
  pageRead(pages, {
    url: '/bench',
    handle(ctx) {
      const doubts = openDoubts(ctx)
      const jobs = jobsInHouse(ctx, doubts)
      const doubt = inDoubtBriefly(ctx, doubts)
      const todo = jobs.filter(job => !job.done)
      return {
        template: 'hand-back/my-jobs',
        sheet: { title: 'My jobs', sheet_number: `${todo.length} to do`, nav: 'bench', at_bench: true },
        view: {
          forgotten: forgottenClock(ctx),
          in_doubt: doubt === null ? null : words(`${doubt} `, link('/in-doubt', 'What is in doubt')),
          jobs: table({
            columns: [column('Job'), column('Vehicle'), column('Next')],
            rows: jobs.map(job => ({
              signed: job.done,
              cells: [
                {
                  text: words(link(cardHref(job.job.id), job.job.task)),
                  notes: [words(ref(job.standing.plan.order.number), ` ${job.job.letter}`)],
                },
                vehicleWords(job.vehicle),
                { text: nextWords(job), notes: noticed(job) },
              ],
            })),
            empty: 'No job is on any vehicle in the house.',
          }),
        },
      }
    },
  })
  pageRead(pages, {
    url: '/tools-out',
    handle(ctx) {
      const { time_zone } = settingsOf(ctx)
      const tools = toolsInVehicles(ctx)
      return {
        template: 'hand-back/tools-out',
        sheet: { title: 'Tools out', sheet_number: `${tools.length} in vehicles`, nav: 'tools-out', at_bench: true },
        view: {
          tools: table({
            columns: [column('Tool'), column('In'), column('Since'), column('Must be out before')],
            rows: tools.map(tool => ({
              cells: [
                {
                  text: words(link(cardHref(tool.job.id), toolWords(tool))),
                  notes: [
                    words(ref(tool.order_number), ` ${tool.job.letter} ${tool.job.task}`),
                    ...(tool.missing === null ? [] : [words(strong(capital(tool.missing)))]),
                  ],
                },
                vehicleWords(tool.vehicle),
                localTimeOf(tool.at, time_zone),
                tool.out_before,
              ],
            })),
            empty: 'No tool is in any vehicle.',
          }),
        },
      }
    },
  })
}

function toolWords({ tool, count }: { tool: string; count: number }): string {
  return count === 1 ? tool : `${tool}, ${count} of them`
}

/** What can be done now; where nothing can, what waits and for what first of all. */
function nextWords({ done, next, waits }: JobInHouse): string {
  if (done) return 'done'
  if (next !== undefined) return next.title
  if (waits === undefined) return 'waits: see the card'
  const [first] = waits.blockers
  return `${waits.title}: waits, ${first === undefined ? waits.waits_for : inOneClause([first])}`
}

/** Under what comes next: what is wrong, and whom it waits for. */
function noticed({ trouble, second_person_wanted }: JobInHouse): Words[] {
  const wanted = second_person_wanted.length === 0 ? [] : [`Second person wanted: ${listed(second_person_wanted)}`]
  return [...trouble, ...wanted].map(text => words(strong(text)))
}

function vehicleWords(vehicle: { plate?: string | undefined; family: string }): Words {
  return vehicle.plate === undefined ? vehicle.family : words(plate(vehicle.plate), ` ${vehicle.family}`)
}
