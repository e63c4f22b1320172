import { ProblemDocument } from '../contract.ts'

const PROBLEM = {
  description: 'A problem document',
  content: { 'application/problem+json': { schema: ProblemDocument } },
}

/** What every route of the API may answer besides. */
export const PROBLEM_ANSWERS = { '4xx': PROBLEM, '5xx': PROBLEM }
