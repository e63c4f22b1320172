import { errorSummary, type FieldView } from '../field.ts'
import type { Pattern } from './pattern.ts'

/** Every kind of question, alone and with something to put right, and the buttons beneath. */
export function formPatterns(): Pattern[] {
  return [
    {
      partial: 'error-summary',
      examples: [
        {
          name: 'Two things',
          view: errorSummary([
            { field: 'plate-wrong', text: 'Registration is empty. Give it, or tick “not registered yet”.' },
            {
              field: 'odometer-wrong',
              text: 'Odometer 17 950 km is lower than on 2 June (18 204 km). Correct it, or say that the instrument was replaced.',
            },
          ]),
        },
      ],
    },
    { partial: 'field', examples: FIELDS.map(([name, view]) => ({ name, view })) },
    {
      partial: 'name-list',
      examples: [
        {
          name: 'Known names for the field before it',
          view: { id: 'components', names: ['Hub seal', 'Wheel bearing'] },
        },
      ],
    },
    {
      partial: 'actions',
      examples: [
        {
          name: 'One to do next, one beside it, one quiet',
          view: {
            actions: [
              { kind: 'submit', label: 'Take in', main: true },
              { kind: 'submit', label: 'Take in to look only', name: 'look', value: 'only' },
              { kind: 'link', label: 'Print the sheet for the windscreen', href: '/patterns' },
            ],
          },
        },
        {
          name: 'Beneath another button, at the bench',
          view: {
            beneath: true,
            actions: [
              { kind: 'button', label: 'Whole stage as set', href: '/patterns' },
              {
                kind: 'post',
                label: 'Undo',
                about: 'bolt 3',
                action: '/patterns',
                hidden: [{ name: 'record', value: '3' }],
              },
            ],
          },
        },
      ],
    },
  ]
}

const FIELDS: [string, FieldView][] = [
  [
    'Text',
    {
      id: 'name-1',
      name: 'name',
      label: 'Name',
      type: 'text',
      required: true,
      value: 'Bodil Farrow',
      classes: 'medium',
    },
  ],
  [
    'Registration',
    {
      id: 'plate-right',
      name: 'plate',
      label: 'Registration',
      type: 'text',
      required: true,
      value: 'QH 418 TK',
      classes: 'medium plate-field',
    },
  ],
  [
    'Something to put right',
    {
      id: 'plate-wrong',
      name: 'plate',
      label: 'Registration',
      type: 'text',
      required: true,
      value: '',
      error: 'it is empty.',
      classes: 'medium plate-field',
    },
  ],
  [
    'A number with its unit, hint and error',
    {
      id: 'odometer-wrong',
      name: 'odometer',
      label: 'Odometer',
      hint: 'As the instrument shows it now',
      type: 'number',
      inputmode: 'numeric',
      required: true,
      value: '17 950',
      unit: 'km',
      error: 'lower than the 18 204 km of 2 June.',
      classes: 'short',
    },
  ],
  [
    'A reading, at the bench',
    {
      id: 'reading-1',
      name: 'value',
      label: 'What the gauge shows',
      type: 'number',
      inputmode: 'decimal',
      required: true,
      value: 45.2,
      unit: 'degrees',
      classes: 'reading',
    },
  ],
  [
    'A name known or new, with its name-list',
    {
      id: 'component-1',
      name: 'component',
      label: 'Component',
      type: 'text',
      required: true,
      list: 'components',
      classes: 'medium',
    },
  ],
  [
    'In somebody’s own words',
    {
      id: 'complaint-1',
      name: 'complaint',
      label: 'Complaint, in the customer’s own words',
      type: 'textarea',
      required: true,
      value: 'It hums from the back above forty.\nLike a bee in a jar.',
    },
  ],
  [
    'One of a list',
    {
      id: 'symptom-list',
      name: 'symptom',
      label: 'Symptom',
      type: 'select',
      required: true,
      classes: 'medium',
      options: [
        { value: 'noise', label: 'Noise from a wheel', selected: true },
        { value: 'judder', label: 'Brake judder' },
      ],
    },
  ],
  [
    'One of a few',
    {
      id: 'symptom-few',
      name: 'symptom_of_few',
      label: 'Symptom',
      type: 'radios',
      required: true,
      error: 'choose one.',
      options: [
        { value: 'judder', label: 'Brake judder' },
        { value: 'noise', label: 'Brake noise', hint: 'squeal or grind' },
      ],
    },
  ],
  [
    'Several of a few',
    {
      id: 'came-with',
      name: 'came_with',
      label: 'What came with it',
      hint: 'Tick everything that is in the vehicle',
      type: 'checkboxes',
      required: false,
      options: [
        { value: 'keys', label: 'Second key', selected: true },
        { value: 'trays', label: 'Bread trays' },
      ],
    },
  ],
  [
    'Yes or no',
    {
      id: 'replaced-1',
      name: 'replaced',
      label: 'The instrument was replaced',
      type: 'checkbox',
      required: false,
      value: 'true',
    },
  ],
  [
    'A date',
    {
      id: 'wanted-1',
      name: 'wanted_on',
      label: 'Wanted back',
      type: 'date',
      required: false,
      value: '2031-11-06',
      min: '2031-11-04',
      classes: 'short',
    },
  ],
  [
    'A password',
    {
      id: 'password-1',
      name: 'password',
      label: 'Password',
      type: 'password',
      required: true,
      autocomplete: 'current-password',
      classes: 'medium',
    },
  ],
  [
    'A picture',
    {
      id: 'photo-1',
      name: 'photo',
      label: 'Photo',
      type: 'file',
      required: false,
      accept: 'image/*',
      capture: 'environment',
    },
  ],
  ['Unseen', { id: 'key-1', name: 'key', label: 'Key', type: 'hidden', required: true, value: 'k-1' }],
]
