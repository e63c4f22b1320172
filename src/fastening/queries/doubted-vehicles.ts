import { eq, sql } from 'drizzle-orm'
import { procedure_revisions } from '../../catalogue/schema.ts'
import { hot, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { customers, families, keepers, vehicles } from '../../vehicles/schema.ts'
import { job_joints, jobs, work_orders } from '../../work-orders/schema.ts'

const jointsOfIds = hot((read: Read) =>
  read
    .select({
      joint_id: job_joints.id,
      joint_name: job_joints.name,
      severity: procedure_revisions.severity,
      order_id: work_orders.id,
      order_number: work_orders.number,
      customer_id: work_orders.customer_id,
      vehicle_id: work_orders.vehicle_id,
    })
    .from(job_joints)
    .innerJoin(procedure_revisions, eq(procedure_revisions.id, job_joints.procedure_revision_id))
    .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
    .innerJoin(work_orders, eq(work_orders.id, jobs.work_order_id))
    .where(isAmong(job_joints.id, 'jointIds'))
    .prepare(),
)

/** What a joint is, how bad its failing would be, and where it hangs. */
export function jointsInDoubt(read: Read, jointIds: readonly string[]) {
  return jointsOfIds(read).all({ jointIds: idList(jointIds) })
}
export type JointInDoubt = ReturnType<typeof jointsInDoubt>[number]

const ordersOfVehicle = sql`from work_orders stay left join hand_backs left_ on left_.work_order_id = stay.id
  where stay.vehicle_id = ${vehicles.id}`

const vehiclesOfIds = hot((read: Read) =>
  read
    .select({
      vehicle_id: vehicles.id,
      plate: vehicles.plate,
      title: sql<string>`coalesce(${vehicles.plate}, ${vehicles.vin}, ${vehicles.frame_number}, ${vehicles.imported_as}, ${families.name})`,
      family: families.name,
      in_house: sql<0 | 1>`exists (select 1 ${ordersOfVehicle} and left_.id is null)`,
      left_on: sql<string | null>`(select max(left_."on") ${ordersOfVehicle})`,
      keeper_id: sql<string | null>`(select ${keepers.customer_id} from ${keepers}
        where ${keepers.vehicle_id} = ${vehicles.id} order by ${keepers.created_at} desc, ${keepers.id} desc limit 1)`,
    })
    .from(vehicles)
    .innerJoin(families, eq(families.id, vehicles.family_id))
    .where(isAmong(vehicles.id, 'vehicleIds'))
    .prepare(),
)

/** Which vehicle it is, whether it is in the house now, the day it last left, and who keeps it. */
export function vehiclesInDoubt(read: Read, vehicleIds: readonly string[]) {
  return vehiclesOfIds(read).all({ vehicleIds: idList(vehicleIds) })
}
export type VehicleInDoubt = ReturnType<typeof vehiclesInDoubt>[number]

const customersOfIds = hot((read: Read) =>
  read
    .select({ id: customers.id, name: customers.name, phone: customers.phone, email: customers.email })
    .from(customers)
    .where(isAmong(customers.id, 'customerIds'))
    .prepare(),
)

export function customersToCall(read: Read, customerIds: readonly string[]) {
  return customersOfIds(read).all({ customerIds: idList(customerIds) })
}
