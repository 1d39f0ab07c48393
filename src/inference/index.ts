export { createRandom, type Random } from "./random.js";
