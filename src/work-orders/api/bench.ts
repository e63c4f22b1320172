import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import {
  ClockInput,
  ClockStart,
  ClockStop,
  EngineTurn,
  JobMark,
  JobTool,
  MarkRecord,
  MarkRecordInput,
  Removal,
  RemovalInput,
  Shortfall,
  ShortfallInput,
  ToolIn,
  ToolInInput,
  ToolOmissionInput,
} from '../contract/bench.ts'
import { clockById, clocksOfJob, startClock, stopClock, stopOfClock } from '../service/clocks.ts'
import { engineTurnsOfJob } from '../service/engine-turns.ts'
import { markById, recordMark, recordOfMark } from '../service/marks.ts'
import { jobById } from '../service/plan.ts'
import { leaveToolOut, putToolIn, toolInById } from '../service/tools.ts'
import { noteShortfall, removalOfTool, shortfallsOfTool, takeToolOut } from '../service/tools-out.ts'
import { oneOfFew, pageOfFew } from './records.ts'

/** What is done at the vehicle beside steps and joints. Turning the engine is hand-back's: it looks at the joints first. */
export function benchApi(api: Api): void {
  toolsInApi(api)
  marksApi(api)
  engineTurnsApi(api)
  clocksApi(api)
}

function toolsInApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/tools-in',
    summary: 'A tool was put into the vehicle and must come out again.',
    roles: ['technician'],
    body: ToolInInput,
    answer: ToolIn,
    handle: (ctx, { params, body }) => {
      const tool = putToolIn(ctx, params.id, body)
      return { record: tool, location: `/api/tools-in/${tool.id}` }
    },
  })
  apiList(api, {
    url: '/jobs/:id/tools-in',
    summary: 'The tools that a job put into the vehicle; those that are out again have removed_at.',
    item: ToolIn,
    handle: (ctx, { params, page }) => pageOfFew(jobById(ctx, params.id).tools_in, page),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/planned-tools/:tool_id/omission',
    summary: 'A tool of the plan was not put in, and why.',
    roles: ['technician'],
    body: ToolOmissionInput,
    answer: JobTool,
    handle: (ctx, { params, body }) => ({
      record: leaveToolOut(ctx, params.id, params.tool_id, body.reason),
      location: `/api/jobs/${params.id}`,
    }),
  })
  apiRead(api, {
    url: '/tools-in/:id',
    summary: 'One tool in a vehicle.',
    answer: ToolIn,
    handle: (ctx, { params }) => ({ record: toolInById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/tools-in/:id/removal',
    summary: 'The tool is out.',
    roles: ['technician'],
    body: RemovalInput,
    answer: Removal,
    handle: (ctx, { params, body }) => ({
      record: takeToolOut(ctx, params.id, body),
      location: `/api/tools-in/${params.id}/removal`,
    }),
  })
  apiRead(api, {
    url: '/tools-in/:id/removal',
    summary: 'When the tool came out.',
    answer: Removal,
    handle: (ctx, { params }) => ({ record: removalOfTool(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/tools-in/:id/shortfalls',
    summary: 'Fewer came out than went in: how many did, and where the rest may be. The tool stays in.',
    roles: ['technician'],
    body: ShortfallInput,
    answer: Shortfall,
    handle: (ctx, { params, body }) => {
      const shortfall = noteShortfall(ctx, params.id, body)
      return { record: shortfall, location: `/api/tools-in/${params.id}/shortfalls/${shortfall.id}` }
    },
  })
  apiList(api, {
    url: '/tools-in/:id/shortfalls',
    summary: 'When fewer of a tool were counted out than went in, oldest first.',
    item: Shortfall,
    handle: (ctx, { params, page }) => pageOfFew(shortfallsOfTool(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/tools-in/:id/shortfalls/:shortfall_id',
    summary: 'One such count.',
    answer: Shortfall,
    handle: (ctx, { params }) => ({
      record: oneOfFew(shortfallsOfTool(ctx, params.id), 'count of this tool', params.shortfall_id),
    }),
  })
}

function marksApi(api: Api): void {
  apiRead(api, {
    url: '/marks/:id',
    summary: 'A position mark of a job; made_at once it was made.',
    answer: JobMark,
    handle: (ctx, { params }) => ({ record: markById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/marks/:id/result',
    summary: 'The position mark was made or photographed.',
    roles: ['technician'],
    body: MarkRecordInput,
    answer: MarkRecord,
    handle: (ctx, { params, body }) => ({
      record: recordMark(ctx, params.id, body),
      location: `/api/marks/${params.id}/result`,
    }),
  })
  apiRead(api, {
    url: '/marks/:id/result',
    summary: 'Who made the mark, and when.',
    answer: MarkRecord,
    handle: (ctx, { params }) => ({ record: recordOfMark(ctx, params.id) }),
  })
}

function engineTurnsApi(api: Api): void {
  apiList(api, {
    url: '/jobs/:id/engine-turns',
    summary: 'When the engine was turned by hand or started on a job, oldest first.',
    item: EngineTurn,
    handle: (ctx, { params, page }) => pageOfFew(engineTurnsOfJob(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/jobs/:id/engine-turns/:turn_id',
    summary: 'One turn of the engine.',
    answer: EngineTurn,
    handle: (ctx, { params }) => ({
      record: oneOfFew(engineTurnsOfJob(ctx, params.id), 'turn of the engine on this job', params.turn_id),
    }),
  })
}

function clocksApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/clock-starts',
    summary: 'Starts the clock of whoever asks; one that ran on another job stops.',
    roles: ['technician'],
    body: ClockInput,
    answer: ClockStart,
    handle: (ctx, { params, body }) => {
      const { clock } = startClock(ctx, params.id, body)
      return { record: clock, location: `/api/clock-starts/${clock.id}` }
    },
  })
  apiList(api, {
    url: '/jobs/:id/clock-starts',
    summary: 'The clocks of a job, oldest first; those that were stopped have stopped_at.',
    item: ClockStart,
    handle: (ctx, { params, page }) => pageOfFew(clocksOfJob(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/clock-starts/:id',
    summary: 'One clock.',
    answer: ClockStart,
    handle: (ctx, { params }) => ({ record: clockById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/clock-starts/:id/stop',
    summary: 'Stops a clock.',
    roles: ['technician'],
    body: ClockInput,
    answer: ClockStop,
    handle: (ctx, { params, body }) => ({
      record: stopClock(ctx, params.id, body),
      location: `/api/clock-starts/${params.id}/stop`,
    }),
  })
  apiRead(api, {
    url: '/clock-starts/:id/stop',
    summary: 'When the clock was stopped.',
    answer: ClockStop,
    handle: (ctx, { params }) => ({ record: stopOfClock(ctx, params.id) }),
  })
}
