import { documentTests } from "../builders/documentTests.js";

documentTests("demo");
