import { Option } from "commander";
import { type Family, taking } from "../common/command.ts";
import * as option from "../common/options.ts";

/** Commands for several benches that know of each other's fixtures. */
export const shares: Family = (program, ends) => {
  const share = program
    .command("share")
    .description("several benches, one memory: exchange events over a PostgreSQL server");
  shareJoinCommand(share, ends);
  shareStatusCommand(share, ends);
  shareNowCommand(share, ends);
  shareFollowCommand(share, ends);
  shareForgetCommand(share, ends);
  shareLeaveCommand(share, ends);
};

const shareJoinCommand: Family = (share, ends) => {
  taking(
    share.command("join").description("take this journal into a share; the server's schema is made after a yes"),
    new Option(
      "--url-file <file>",
      "a private file with the address, postgres://USER@HOST/DATABASE (else PGHOST and so on)",
    ),
    new Option("--shop <name>", "only the benches of this shop hear of each other").default("", "all of them"),
    new Option("--name <words>", "what people call this bench").default("", "the computer's name"),
    new Option("--yes", "continue without asking").default(false),
    option.journalOption(),
  ).action(async (given) => {
    const { joinShare } = await import("./share.ts");
    await ends(joinShare({ urlFile: undefined, ...given }));
  });
};

const shareStatusCommand: Family = (share, ends) => {
  taking(
    share.command("status").description("which benches there are, what is sent and received, what is open twice"),
    option.journalOption(),
    option.jsonOption(),
  ).action(async ({ journal, json }) => {
    const { shareStatus } = await import("./share.ts");
    await ends(shareStatus(journal, json));
  });
};

const shareNowCommand: Family = (share, ends) => {
  taking(share.command("now").description("exchange now, and say what was exchanged"), option.journalOption()).action(
    async ({ journal }) => {
      const { shareNow } = await import("./share.ts");
      await ends(shareNow(journal));
    },
  );
};

const shareFollowCommand: Family = (share, ends) => {
  taking(
    share
      .command("follow <serial>")
      .description("a fixture that came from another shop: receive what the benches there know, from now on"),
    option.journalOption(),
  ).action(async (serial, { journal }) => {
    const { followFixture } = await import("./share.ts");
    await ends(followFixture(journal, serial));
  });
};

const shareForgetCommand: Family = (share, ends) => {
  taking(
    share.command("forget <bench>").description("a bench that is lost or stolen: refuse whatever it sends from now on"),
    option.journalOption(),
  ).action(async (bench, { journal }) => {
    const { forgetBench } = await import("./share.ts");
    await ends(forgetBench(journal, bench));
  });
};

const shareLeaveCommand: Family = (share, ends) => {
  taking(
    share.command("leave").description("go on alone; what was shared stays on the server"),
    option.journalOption(),
  ).action(async ({ journal }) => {
    const { leaveShare } = await import("./share.ts");
    await ends(leaveShare(journal));
  });
};
