import type { ProfileRule } from "./rule.ts";

/** A profile that is called otherwise than its file. */
export const nameNotFile: ProfileRule = {
  name: "name-not-file",
  why: "Profiles are found by the name of their file, runs keep the name in it.",
  find: ({ file: { source }, profile: { name } }) => {
    const called = /([^/\\]+)\.ya?ml$/.exec(source)?.[1];
    return called === undefined || called === name
      ? []
      : [
          {
            path: ["profile"],
            message: `the file is called ${called}`,
            instead: `the file ${name}.yaml, or profile: ${called}`,
          },
        ];
  },
};
