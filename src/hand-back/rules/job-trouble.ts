export interface JointAtWork {
  name: string
  sentence: string
  trouble: boolean
  left: boolean
  temporary: boolean
  waits_for_second_person: boolean
}

/** What of a job's joints somebody must deal with, in words; and where only a second person is missing. */
export function jobTrouble(joints: readonly JointAtWork[]): { trouble: string[]; second_person_wanted: string[] } {
  return {
    trouble: joints
      .filter(joint => joint.trouble || joint.left || joint.temporary)
      .map(joint => `${joint.name}: ${joint.sentence}`),
    second_person_wanted: joints.filter(joint => joint.waits_for_second_person).map(joint => joint.name),
  }
}
