import path from 'node:path'
import { startClient } from './client.ts'
import { measurePages } from './pages.ts'
import { inFolder, toldWorkshop } from './world.ts'
import { measureWrites } from './writes.ts'

await inFolder(async folder => {
  const deps = await toldWorkshop(path.join(folder, 'workshop.db'))
  const client = startClient()
  if (process.argv[2] !== 'w') console.log(await measurePages(deps, client))
  console.log(await measureWrites(deps, client, folder))
  await client.close()
  deps.store.close()
})
