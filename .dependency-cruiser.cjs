/** The layers of the house: data flows one way, from survey to report view. */
const stages = [
  "units",
  "written-number",
  "measure",
  "assumptions",
  "geometry",
  "chance",
  "request",
  "book",
  "survey",
  "terrain",
  "lot",
  "earthwork",
  "access",
  "schemes",
  "drainage",
  "structure",
  "bill",
  "schedule",
  "cost",
  "findings",
  "pictures",
  "study",
];
const backwards = stages.flatMap((stage, i) => {
  const later = stages.slice(i + 1);
  return later.length
    ? [
        {
          name: `no-step-back-from-${stage}`,
          severity: "error",
          comment: "A stage imports itself and earlier stages only.",
          from: { path: `^analysis/${stage}(/|\\.ts$)` },
          to: { path: `^analysis/(${later.join("|")})(/|\\.ts$)` },
        },
      ]
    : [];
});
module.exports = {
  forbidden: [
    ...backwards,
    { name: "no-circular", severity: "error", from: {}, to: { circular: true } },
    {
      name: "analysis-is-pure",
      severity: "error",
      from: { path: "^analysis/" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "analysis-knows-no-service",
      severity: "error",
      from: { path: "^analysis/" },
      to: { path: "^(server|templates|tests)/" },
    },
    {
      name: "templates-know-no-service",
      severity: "error",
      from: { path: "^templates/" },
      to: { path: "^(server|tests)/" },
    },
    {
      name: "templates-compute-nothing",
      severity: "error",
      from: { path: "^templates/" },
      to: {
        path: "^analysis/(survey|terrain|lot|earthwork|schemes|access|drainage|structure|cost|schedule|findings)/",
        dependencyTypesNot: ["type-only"],
      },
    },
    { name: "nothing-unresolved", severity: "error", from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "types", "default"],
    },
  },
};
