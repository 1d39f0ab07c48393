import { InputError } from "../results/index.js";
import { basename, dirname } from "./node/paths.js";

/** What the system says of a file that could not be written, and the cure. */
const cures: { readonly [code: string]: string } = {
  ENOSPC: "the disk is full; free some space, or name a folder on another disk",
  EDQUOT: "the quota of this disk is used up; free some space, or name a folder on another disk",
  EROFS: "this disk can only be read; name a folder on another disk",
  EACCES: "writing there is not allowed; name a folder of your own",
  EPERM:
    "writing there is not allowed; close the file where a program holds it open, or name another folder",
  EBUSY: "another program holds the file open; close it there and run again",
  ENAMETOOLONG: "the name is too long; give a shorter one",
  ENOTDIR: "a part of the path is a file; name another folder",
  EMFILE: "too many files are open; close other programs, or raise the limit of open files",
  ENFILE: "too many files are open; close other programs, or raise the limit of open files",
  EISDIR: "a folder has that name; name another file",
};

/** The error of a caller whose file could not be written: the file's name, the reason and the cure. */
export function fileFault(error: unknown, path: string, caller: string): Error {
  if (error instanceof InputError) return error;
  const { code } = error as NodeJS.ErrnoException;
  const cure = code === undefined ? undefined : cures[code];
  if (cure === undefined) return error instanceof Error ? error : new Error(String(error));
  return new InputError(
    `${caller} requires a place to write ${basename(path)} in ${dirname(path)}, got none: ${cure}`,
  );
}
