export interface JointAtWork {
  name: string
  /** Where it stands; of one left half way, also by whom, when and why. */
  sentence: string
  trouble: boolean
  left: object | null
  temporary: boolean
  waits_for_second_person: boolean
}

/** What of a job's joints somebody must deal with, in words; and where only a second person is missing. */
export function jobTrouble(joints: readonly JointAtWork[]): { trouble: string[]; second_person_wanted: string[] } {
  return {
    trouble: joints
      .filter(joint => joint.trouble || joint.left !== null || joint.temporary)
      .map(joint => `${joint.name}: ${joint.sentence}`),
    second_person_wanted: joints.filter(joint => joint.waits_for_second_person).map(joint => joint.name),
  }
}
