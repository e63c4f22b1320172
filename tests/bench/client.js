// The one who asks: a thread of its own, so that asking does not take the time of answering. JavaScript, because a worker
// thread gets no help from tsx.
import http from 'node:http'
import { parentPort } from 'node:worker_threads'

function send(agent, { method, url, headers, body, expect }) {
  return new Promise((resolve, reject) => {
    const request = http.request(url, { method, headers, agent }, response => {
      response.resume()
      response.on('error', reject)
      response.on('end', () => {
        if (response.statusCode === expect) resolve()
        else reject(new Error(`${method} ${url} answered ${response.statusCode}`))
      })
    })
    request.on('error', reject)
    request.end(body)
  })
}

async function inTurn(agent, requests) {
  for (let next = requests.pop(); next !== undefined; next = requests.pop()) await send(agent, next)
}

parentPort.on('message', async ({ requests, atOnce }) => {
  const agent = new http.Agent({ keepAlive: true, maxSockets: atOnce })
  const started = performance.now()
  try {
    await Promise.all(Array.from({ length: atOnce }, () => inTurn(agent, requests)))
    parentPort.postMessage({ seconds: (performance.now() - started) / 1000 })
  } catch (error) {
    parentPort.postMessage({ error: error.message })
  }
  agent.destroy()
})
