import { afterEach, expect, test } from "vitest";
import { artRdmDoor } from "../../../src/io/network/art-rdm.ts";
import { talk } from "../../../src/run/shell/rdm-talk.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable } from "../../../src/sim/rdm/cable.ts";
import { plainDevice } from "../../../src/sim/rdm/device.ts";
import { readFixture } from "../../../src/wire/rdm/fixture.ts";
import { uidBytes } from "../../../src/wire/rdm/packet.ts";
import { type Gateway, gatewayAt } from "../../kit/rdm/gateway.ts";
import { loopbackAddress } from "./receiver.ts";

const uids = Array.from({ length: 7 }, (_, index) => 0x7ff0_0000_0001 + index);
const cableOf = (count: number) =>
  new Cable(
    uids.slice(0, count).map((uid) => plainDevice(uidBytes(uid))),
    chanceFrom(1),
  );
const gateways: Gateway[] = [];
afterEach(async () => {
  for (const gateway of gateways.splice(0)) await gateway.close();
});
const behind = async (count: number, universe = 0x123, blockSize = 3) => {
  const address = loopbackAddress();
  gateways.push(await gatewayAt(address, universe, cableOf(count), blockSize));
  const door = artRdmDoor(`artnet:${universe}`, universe, address);
  await door.open();
  return door;
};
const tableOf = async (door: Awaited<ReturnType<typeof behind>>) =>
  door.searched.kind === "by-gateway" ? await door.searched.table() : "searched by us";

test("a gateway's table of devices comes in blocks and is whole; each of them can be asked", async () => {
  const door = await behind(7);
  expect(await tableOf(door)).toEqual(uids);
  expect(await talk(readFixture(uids[4]!), door)).toMatchObject({
    kind: "done",
    value: { identity: { uid: "7FF0:00000005", maker: "Bench Prototypes", troubles: [] } },
  });
  await door.close();
});

test("what another universe's gateway says is not heard, and the wait is bounded", async () => {
  const address = loopbackAddress();
  gateways.push(await gatewayAt(address, 5, cableOf(2)));
  const door = artRdmDoor("artnet:6", 6, address);
  await door.open();
  expect(await talk(readFixture(uids[0]!), door)).toEqual({ kind: "no-rdm" });
  await door.close();
});

test("the port of Art-Net is bound while the door is open, and free again when it is closed", async () => {
  const door = await behind(1);
  const second = artRdmDoor("artnet:1", 1, loopbackAddress());
  await expect(second.open()).rejects.toMatchObject({
    code: "busy",
    message: expect.stringContaining("listens to Art-Net"),
  });
  await door.close();
  await second.open();
  await second.close();
});
