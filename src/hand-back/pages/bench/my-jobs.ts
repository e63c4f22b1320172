import { settingsOf } from '../../../accounts/index.ts'
import { localTimeOf } from '../../../core/calendar.ts'
import { pageRead } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { column, table } from '../../../platform/pages/table.ts'
import { link, plate, ref, type Words, words } from '../../../platform/pages/words.ts'
import { jobsInHouse, toolsInVehicles } from '../../service/bench/my-jobs.ts'

/** The jobs of every vehicle in the house, with the next thing to do on each; and the tools that are in vehicles now. */
export function myJobsPages(pages: Pages): void {
  pageRead(pages, {
    url: '/bench',
    handle(ctx) {
      const jobs = jobsInHouse(ctx)
      const todo = jobs.filter(job => !job.done)
      return {
        template: 'hand-back/my-jobs',
        sheet: { title: 'My jobs', sheet_number: `${todo.length} to do`, nav: 'bench', at_bench: true },
        view: {
          jobs: table({
            columns: [column('Job'), column('Vehicle'), column('Next')],
            rows: jobs.map(({ job, standing, vehicle, next, done }) => ({
              signed: done,
              cells: [
                {
                  text: words(link(`/bench/jobs/${job.id}`, job.task)),
                  notes: [words(ref(standing.plan.order.number), ` ${job.letter}`)],
                },
                vehicleWords(vehicle),
                done ? 'done' : (next?.title ?? 'waits: see the card'),
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
                { text: tool.tool, notes: [words(link(`/bench/jobs/${tool.job.id}`, tool.job.task))] },
                vehicleWords(tool.vehicle),
                localTimeOf(tool.at, time_zone),
                tool.before_step === null ? 'the vehicle leaves' : `"${tool.before_step}" is closed`,
              ],
            })),
            empty: 'No tool is in any vehicle.',
          }),
        },
      }
    },
  })
}

function vehicleWords(vehicle: { plate?: string | undefined; family: string }): Words {
  return vehicle.plate === undefined ? vehicle.family : words(plate(vehicle.plate), ` ${vehicle.family}`)
}
