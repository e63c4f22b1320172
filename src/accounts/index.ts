/** People, roles, sessions, tokens and the workshop's settings. */
export type { Settings } from './contract.ts'
export { patchSettings, settingsOf } from './service/settings.ts'
export {
  actorOfToken,
  addPerson,
  createSetupLink,
  createToken,
  namesOfPeople,
  openSession,
  peopleWithRole,
  putNotice,
  resetPassword,
  sessionOf,
} from './service.ts'
