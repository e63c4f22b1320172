/** A procedure revision as it is typed into its form: six bolts on a circle, a torque and an angle, new ones each time. */
export const TYPED_REVISION = {
  layout: 'circle',
  count: '6',
  'stages[0][kind]': 'torque',
  'stages[0][target]': '30',
  'stages[0][lower]': '28,5',
  'stages[0][upper]': '31,5',
  'stages[1][kind]': 'angle',
  'stages[1][target]': '90',
  reuse: 'never',
  severity: 'safety',
  on_failure: 'replace',
  source: 'Corvane manual, edition 4, page 212',
}
