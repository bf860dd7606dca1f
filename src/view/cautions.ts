/** What every answer is handed out with. */
export const CAUTIONS: readonly string[] = [
  "Estimates for models only, never for a vehicle that carries people.",
  "Wheels and parts fly off at speed: wear eye protection, keep your distance, clear the track.",
  "Batteries and hot motors: follow their makers' instructions.",
  "Printed and moulded parts scatter and age: test on the bench before you trust a number.",
  "For anything beyond a model: local rules and licensed engineers.",
];
