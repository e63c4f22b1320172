/** A field that travels with a button unseen. */
export interface HiddenField {
  name: string
  value: string
}

/**
 * What can be done here, as one row of buttons.
 * - submit: sends the form around it; `name` and `value` say which of several was pressed
 * - post: a small form of its own, for what is done in one tap
 * - button: a link that looks like a button; link: a quiet one
 * `main` marks the one thing to do next; `about` says to a screen reader what a short label is about ('Undo' + 'bolt 3').
 */
export type Action =
  | { kind: 'submit'; label: string; main?: boolean; name?: string; value?: string; about?: string }
  | { kind: 'post'; label: string; main?: boolean; action: string; hidden?: HiddenField[]; about?: string }
  | { kind: 'button'; label: string; main?: boolean; href: string; about?: string }
  | { kind: 'link'; label: string; href: string; about?: string }
