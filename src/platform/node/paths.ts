export { basename, dirname, join, relative, resolve } from "node:path";
