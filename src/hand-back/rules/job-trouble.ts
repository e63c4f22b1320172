export interface JointAtWork {
  name: string
  /** Where it stands; of one left half way, also by whom, when and why. */
  sentence: string
  trouble: boolean
  left: object | null
  temporary: boolean
  /** Somebody has not settled a doubt about it. */
  in_doubt: boolean
  waits_for_second_person: boolean
}

/** What of a job's joints somebody must deal with, in words; and where only a second person is missing. */
export function jobTrouble(joints: readonly JointAtWork[]): { trouble: string[]; second_person_wanted: string[] } {
  return {
    trouble: joints
      .filter(joint => joint.trouble || joint.left !== null || joint.temporary || joint.in_doubt)
      .map(joint => `${joint.name}: ${joint.in_doubt ? 'in doubt; ' : ''}${joint.sentence}`),
    second_person_wanted: joints.filter(joint => joint.waits_for_second_person).map(joint => joint.name),
  }
}
