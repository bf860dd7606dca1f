import * as Comlink from "comlink";
import { api } from "./api.ts";

Comlink.expose(api);
