/**
 * What every page adds when there is script; each works without it. Focus goes to the error summary, a form is sent once,
 * and a form with data-draft="name" keeps on this device what was typed until it has been sent.
 */

document.querySelector('.error-summary')?.focus()

document.addEventListener('submit', event => {
  const form = event.target
  if (event.defaultPrevented) return
  if (form.dataset.sent === 'yes') event.preventDefault()
  form.dataset.sent = 'yes'
})

// Coming back with the browser's button shows the page as it was left: it may be sent again, and the key it carries
// makes a second sending harmless.
window.addEventListener('pageshow', () => {
  for (const form of document.forms) delete form.dataset.sent
})

/** A draft belongs to the person who typed it: another who uses this device does not see it. */
function draftKey(form) {
  return `draft ${document.body.dataset.person ?? ''} ${form.dataset.draft}`
}

/** What can be kept: nothing secret, no file, and nothing the program itself put there unseen. */
function controls(form) {
  return [...form.elements].filter(
    control => control.name && !['password', 'file', 'hidden', 'submit', 'button'].includes(control.type),
  )
}

const isChoice = control => control.type === 'checkbox' || control.type === 'radio'
const nameOf = control => (isChoice(control) ? `${control.name}=${control.value}` : control.name)

function keep(form) {
  const typed = controls(form).map(control => [nameOf(control), isChoice(control) ? control.checked : control.value])
  localStorage.setItem(draftKey(form), JSON.stringify(typed))
  for (const note of document.querySelectorAll('[data-draft-note]')) note.hidden = false
}

/** Puts back what was typed, but never over what the server sent back to be put right. */
function bringBack(form) {
  const kept = localStorage.getItem(draftKey(form))
  if (kept === null || document.querySelector('.error-summary')) return
  const typed = new Map(JSON.parse(kept))
  for (const control of controls(form)) {
    const value = typed.get(nameOf(control))
    if (value === undefined) continue
    if (isChoice(control)) control.checked = value
    else control.value = value
  }
  for (const note of document.querySelectorAll('[data-draft-note]')) note.hidden = false
}

const drafts = [...document.querySelectorAll('form[data-draft]')]

/** Does this page show the form again because it has not arrived? */
function cameBack(key) {
  const wentBack = performance.getEntriesByType('navigation')[0]?.type === 'back_forward'
  return (wentBack || document.querySelector('.error-summary')) && drafts.some(form => draftKey(form) === key)
}

const sent = sessionStorage.getItem('draft sent')
if (sent !== null) {
  sessionStorage.removeItem('draft sent')
  if (!cameBack(sent)) localStorage.removeItem(sent)
}

for (const form of drafts) {
  bringBack(form)
  form.addEventListener('input', () => keep(form))
  form.addEventListener('submit', () => sessionStorage.setItem('draft sent', draftKey(form)))
}
