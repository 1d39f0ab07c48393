import { serveRuns } from "../inference/index.js";
import { searchRunner } from "./searchTask.js";

serveRuns(searchRunner);
