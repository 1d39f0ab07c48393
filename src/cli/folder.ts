import type { Command } from "commander";

/** `meridional folder NAME`: a researcher's own project. */
export function registerFolder(program: Command): void {
  program
    .command("folder")
    .description("make a folder for a study of your own, with invented data to try it on")
    .argument("<name>", "the folder to make")
    .option("--notebook <name>", "copy a notebook of the package too, with the data that it reads")
    .action(async (name: string, options: { readonly notebook?: string }, command: Command) => {
      const { makeFolder } = await import("../notebook/folder/makeFolder.js");
      const files = await makeFolder(name, options);
      const text = [
        `${name} made, ${files.length} files; the data in it are invented. Next:`,
        `  cd ${name}`,
        "  npm install",
        "  npm start",
        "  npm run notebooks",
      ];
      console.log(
        command.optsWithGlobals().json ? JSON.stringify({ folder: name, files }) : text.join("\n"),
      );
    });
}
