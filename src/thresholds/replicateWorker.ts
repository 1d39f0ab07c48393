import { serveRuns } from "../inference/index.js";
import { replicateRunner } from "./replicates.js";

serveRuns(replicateRunner);
