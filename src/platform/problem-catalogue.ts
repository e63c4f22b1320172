/**
 * The closed catalogue of everything that can be refused (RFC 9457). Each entry fixes the status and the title; the place
 * that throws adds what happened, in words for the person who reads it. Names state the fact. `/problems/:type` explains each.
 */
export const PROBLEMS = {
  'not-readable': {
    status: 400,
    title: 'The request could not be read',
    help: 'The body is not valid JSON, or a header or parameter is malformed.',
  },
  'idempotency-key-missing': {
    status: 400,
    title: 'The Idempotency-Key header is missing',
    help: 'Every write takes an Idempotency-Key header: any text up to 200 characters that you have not used before. Repeat the same key to repeat the same write safely.',
  },
  'not-signed-in': {
    status: 401,
    title: 'Not signed in',
    help: 'Send Authorization: Bearer <token>, or log in on the pages.',
  },
  'role-not-allowed': {
    status: 403,
    title: 'Your role may not do this',
    help: 'Desk, technician and owner may do different things; the owner may do all.',
  },
  'cross-site': {
    status: 403,
    title: 'The form came from another site',
    help: 'Forms are taken only from the pages of this program itself.',
  },
  'not-found': { status: 404, title: 'There is no such record', help: 'The id or address names nothing here.' },
  'stale-edit': {
    status: 412,
    title: 'Somebody has changed this since you read it',
    help: 'Read the record again, look at what has changed, and send your change with its new ETag.',
  },
  'body-too-large': { status: 413, title: 'The body is too large', help: 'Send less at once.' },
  'file-too-large': {
    status: 413,
    title: 'The file is too large',
    help: 'Send a smaller photo, or a shorter sound or clip. The answer says how much there may be.',
  },
  'file-not-taken': {
    status: 415,
    title: 'This kind of file is not kept',
    help: 'Photos, sound and short clips are kept. What a file is, is told by what is in it, not by its name.',
  },
  'media-type': { status: 415, title: 'This kind of body is not taken', help: 'Send application/json to the API.' },
  'no-such-range': {
    status: 416,
    title: 'The file has no such bytes',
    help: 'Ask without a Range header, or for bytes that it has; Content-Range says how many there are.',
  },
  'invalid-input': {
    status: 422,
    title: 'Some of it needs putting right',
    help: 'Each entry of errors names a field by JSON pointer and says what to do.',
  },
  'key-reused': {
    status: 422,
    title: 'This Idempotency-Key was used for something else',
    help: 'Use a new key for a new write.',
  },
  'if-match-missing': {
    status: 428,
    title: 'The If-Match header is missing',
    help: 'Send If-Match with the ETag that you read, so that nobody overwrites what somebody else wrote.',
  },
  'too-many-requests': { status: 429, title: 'Too many tries', help: 'Wait a little and try again.' },
  internal: {
    status: 500,
    title: 'Something went wrong in the program',
    help: 'It was not your input. Nothing was saved. The request id finds it in the log.',
  },
  busy: { status: 503, title: 'The database is busy', help: 'Nothing was saved. Try again in a moment.' },

  'record-never-changes': {
    status: 409,
    title: 'This record never changes',
    help: 'Write a new record that names the one it supersedes and says why.',
  },
  'name-taken': {
    status: 409,
    title: 'That name is taken',
    help: 'Names are unique. Use the record that has it, or choose another name.',
  },

  'stage-before-its-turn': {
    status: 409,
    title: 'That stage comes only after an earlier one',
    help: 'A fastener goes through its stages in order. Record the earlier stage first.',
  },
  'joint-incomplete': {
    status: 409,
    title: 'The joint cannot be signed yet',
    help: 'Every fastener must have every stage within its limits, no tool be closed in, and no doubt be open. blockers says what is missing, and where to do it.',
  },
  'same-person': {
    status: 409,
    title: 'The second person must be another one',
    help: 'Where safety hangs on a joint, somebody who neither tightened nor signed it looks at it too.',
  },
  'already-signed': {
    status: 409,
    title: 'That has been signed already',
    help: 'Nothing has been recorded since, so the signature stands.',
  },
  'look-again-too-soon': {
    status: 409,
    title: 'It is too soon to look again',
    help: 'In this workshop whoever tightened may be the second to look, but only after a while: from says when.',
  },
  'stage-as-set-not-allowed': {
    status: 409,
    title: 'A whole stage may not be recorded as set here',
    help: 'On safety joints this workshop records each fastener by itself. The owner can change that in the settings.',
  },
  'joint-left': {
    status: 409,
    title: 'The joint was left half way',
    help: 'Whoever goes on says first how: carry on, or start over. left says who stopped, where and why.',
  },
  'joint-resumed': {
    status: 409,
    title: 'The joint was taken up again already',
    help: 'Somebody has said before how it goes on.',
  },
  'fasteners-reusable': {
    status: 409,
    title: 'These fasteners may be used again',
    help: 'Only old fasteners that may not be used again, or only after inspection, can be in a joint for a time.',
  },
  'batch-bad': {
    status: 409,
    title: 'That batch was found bad',
    help: 'Nothing of a batch that was found bad goes on a job any more. Put it aside and take one of another batch.',
  },
  'doubt-settled': {
    status: 409,
    title: 'That doubt has been settled',
    help: 'A settlement stays as it was recorded.',
  },
  'no-good-check': {
    status: 409,
    title: 'No check has found it good since',
    help: 'What a wrench or gauge put in doubt is settled at once only after a good check, a joint that safety hangs on only when it was checked itself; each joint by itself at any time.',
  },
  'authorisation-withdrawn': {
    status: 409,
    title: 'That yes was taken back',
    help: 'It counts no more. Write down what the customer did say as a yes of its own.',
  },
  'loss-decided': {
    status: 409,
    title: 'Its cause has been decided',
    help: 'See the cause that stands. To change it, write a new one that supersedes it.',
  },
  'tool-not-to-come': {
    status: 409,
    title: 'That tool went in, or was left out before',
    help: 'The job card says which, since when and by whom.',
  },
  'wait-ended': {
    status: 409,
    title: 'Nobody waits for that any more',
    help: 'It was written down as here, or given up. If it is waited for again, write it down anew.',
  },
  'part-line-taken-off': {
    status: 409,
    title: 'That part was taken off before',
    help: 'It counts no more. If it went in after all, add it again.',
  },
  'customer-erased': {
    status: 409,
    title: 'That customer has been erased',
    help: 'Nothing personal is left of them. Add the customer anew if they come back.',
  },
  'customer-in-house': {
    status: 409,
    title: 'A vehicle of that customer is in the house',
    help: 'Hand it back first: until then their name and words are needed.',
  },
  'look-has-result': {
    status: 409,
    title: 'That look has a result',
    help: 'A result stays as it was recorded. Note a finding for what was seen later.',
  },
  'comeback-decided': {
    status: 409,
    title: 'That comeback has been decided',
    help: 'A decision stays. A changed mind is a new decision that names the one it supersedes.',
  },
  'month-runs': {
    status: 409,
    title: 'That month is not over yet',
    help: 'A month is issued once, after its last day; until then its review is worked out anew each time.',
  },
  'month-issued': {
    status: 409,
    title: 'That month has been issued',
    help: 'A month is issued once. Its figures stand; ask with as_of for what is known on another day.',
  },
  'left-for-later-settled': {
    status: 409,
    title: 'That work has been done since',
    help: 'What was left for later is settled once, by one job.',
  },

  'work-order-handed-back': {
    status: 409,
    title: 'The work order has been handed back',
    help: 'The vehicle has left and its invoice is made. Open a new work order for what comes after.',
  },
  'job-voided': {
    status: 409,
    title: 'The job was voided',
    help: 'A voided job takes no new work. Add a job to the work order for what is done after all.',
  },
  'job-has-plan': {
    status: 409,
    title: 'Its joints say that the work is done',
    help: 'The work of a job with bolted joints is done when these are signed. Only of a job without any does somebody say so.',
  },
  'job-done': { status: 409, title: 'The job is done already', help: 'Somebody has said so before; once is enough.' },
  'step-open': {
    status: 409,
    title: 'The step is open already',
    help: 'All jobs of a work order share its open steps.',
  },
  'step-not-open': { status: 409, title: 'The step is not open', help: 'A step is opened before it can be closed.' },
  'step-not-reachable': {
    status: 409,
    title: 'Other steps come before this one',
    help: 'Open the steps that this one needs first; the answer names them.',
  },
  'mark-missing': {
    status: 409,
    title: 'A position mark comes first',
    help: 'Mark or photograph where things stand before they are taken apart: blockers says what.',
  },
  'mark-made': {
    status: 409,
    title: 'That mark was made before',
    help: 'A mark is made once, before anything comes off: later there is nothing left to mark.',
  },
  'engine-blocked': {
    status: 409,
    title: 'The engine may not be turned yet',
    help: 'Tools out, begun joints signed, no temporary fasteners, and by hand before it is started: blockers says what is missing.',
  },
  'clock-running': {
    status: 409,
    title: 'That clock runs already',
    help: 'A person has one running clock. Starting it on another job stops it here.',
  },
  'clock-stopped': {
    status: 409,
    title: 'That clock was stopped',
    help: 'Start the clock anew when work goes on.',
  },
  'step-blocked': {
    status: 409,
    title: 'The step cannot be closed yet',
    help: 'Something behind it is not done: blockers says what, and where to do it.',
  },
  'tool-out': { status: 409, title: 'The tool is out already', help: 'Its removal was recorded before.' },
  'joint-begun': {
    status: 409,
    title: 'A joint of the job is begun and not signed',
    help: 'What was begun must end tight: finish the joint and sign it, then void the job.',
  },
  'hand-back-blocked': {
    status: 409,
    title: 'The vehicle cannot be handed back yet',
    help: 'blockers says what is missing, and where to do it.',
  },
} as const satisfies Record<string, { status: number; title: string; help: string }>

export type ProblemName = keyof typeof PROBLEMS
