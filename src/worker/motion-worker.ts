import * as Comlink from "comlink";
import { motionApi } from "./motion.ts";

Comlink.expose(motionApi);
