/** People, roles, sessions, tokens and the workshop's settings. */
export type { Person, PersonInput, Settings, SettingsInput } from './contract.ts'
export { patchSettings, settingsOf } from './service/settings.ts'
export {
  actorOfToken,
  addPerson,
  createSetupLink,
  createToken,
  logIn,
  namesOfPeople,
  openSession,
  putNotice,
  resetPassword,
  sessionOf,
} from './service.ts'
