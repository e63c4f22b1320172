/**
 * Taking in: as soon as a symptom or the odometer is typed, the page asks the program what the record says of it. Without
 * script the button does the same. What is typed stays where it is: only what the record says is put in its place.
 */

const form = document.querySelector('form[data-draft^="take-in"]')
const PLACES = ['flags', 'said', 'checks']

/** The section of a heading; what stands within a section is a place by itself. */
function placeOf(page, id) {
  const found = page.getElementById(id)
  return id === 'said' ? found : (found?.closest('section') ?? null)
}

function put(page) {
  for (const id of PLACES) {
    const [old, now] = [placeOf(document, id), placeOf(page, id)]
    if (old !== null && now !== null) old.replaceChildren(...now.childNodes)
    else if (now !== null) document.getElementById('said').closest('section').after(now)
    else old?.remove()
  }
}

let asked = 0

async function ask() {
  asked += 1
  const mine = asked
  const body = new URLSearchParams(new FormData(form))
  body.set('_again', 'record')
  try {
    const reply = await fetch(form.action, { method: 'POST', body })
    if (!reply.ok || mine !== asked) return
    put(new DOMParser().parseFromString(await reply.text(), 'text/html'))
  } catch (error) {
    // without a connection the record says nothing new; the form itself says so when it is sent
    if (!(error instanceof TypeError)) throw error
  }
}

form?.addEventListener('change', event => {
  if (/^(symptoms|odometer)/.test(event.target.name)) ask()
})
