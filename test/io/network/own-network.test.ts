import { describe, expect, test } from "vitest";
import { CABLE, inOwnNetwork, ownNetworkMissing } from "./own-network.ts";

const missing = ownNetworkMissing();

describe.skipIf(missing !== undefined)(`in a network of its own${missing ? ` - ${missing}` : ""}`, () => {
  test("without a way to the receiver it does not open, and says unreachable; the process ends", () => {
    expect(inOwnNetwork([], `say(await open(sacnLine("net", 1, "10.9.0.2")));`)).toEqual(["unreachable"]);
  });

  test("a cable pulled out is noticed, while it is out it does not open, and plugged in again it goes on; the process ends", () => {
    const said = inOwnNetwork(
      CABLE,
      `const line = sacnLine("net", 1, "10.9.0.2");
      say(await open(line));
      await sendUntil(line, () => line.send(new Uint8Array(512)) === "sent");
      ip("link set there down");
      await sendUntil(line, () => losses.length > 0);
      say(...losses, line.send(new Uint8Array(512)), await open(line));
      ip("link set there up");
      let again = "";
      while (again !== "open") again = await open(line);
      await turn();
      say(again, line.send(new Uint8Array(512)), losses.length);
      await line.close();`,
    );
    expect(said).toEqual(["open", "unplugged dropped unplugged", "open sent 1"]);
  });

  test("a way that is taken away in the middle is a loss", () => {
    const said = inOwnNetwork(
      CABLE,
      `const line = sacnLine("net", 1, "10.9.0.2");
      say(await open(line));
      ip("addr del 10.9.0.1/24 dev here");
      await sendUntil(line, () => losses.length > 0);
      say(...losses);`,
    );
    expect(said).toEqual(["open", "unreachable"]);
  });

  test("multicast goes to the universe's group and comes to whoever joined it", () => {
    const said = inOwnNetwork(
      [...CABLE, "ip route add 239.255.0.0/16 dev here"],
      `const receiver = createSocket("udp4");
      const heard = [];
      receiver.on("message", (packet) => heard.push(packet.readUInt16BE(113) + ":" + packet[112]));
      await new Promise((resolve) => receiver.bind(5568, "239.255.18.52", resolve));
      receiver.addMembership("239.255.18.52", "10.9.0.1");
      const [wanted, other] = [sacnLine("net", 4660, "multicast"), sacnLine("net", 4661, "multicast")];
      say(await open(wanted), await open(other));
      await sendUntil(other, () => other.send(new Uint8Array(512)) === "sent");
      await sendUntil(wanted, () => heard.length > 0);
      await wanted.close();
      await other.close();
      while (heard.at(-1) !== "4660:64") await turn();
      receiver.close();
      say(new Set(heard.map((one) => one.split(":")[0])).size, heard.at(-1));`,
    );
    expect(said).toEqual(["open open", "1 4660:64"]);
  });
});
