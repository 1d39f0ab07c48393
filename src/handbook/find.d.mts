import type MiniSearch from "minisearch";
import type { Options, SearchResult } from "minisearch";

export const searchOptions: Options;
export function find(index: MiniSearch, typed: string): SearchResult[];
