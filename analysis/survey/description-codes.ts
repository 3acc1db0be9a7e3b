/**
 * Words of common field codes, first rule met wins; * stands for any letters. Common practice, no source. Cautious:
 * what may stand above or below the ground (roofs, pipes, wires, wall tops) carries no facet; pavement, curbs,
 * found corners and the foot of a tree do.
 */
import type { SurveyFeature } from "./survey.js";

export interface CodeRule {
  readonly kind: SurveyFeature["kind"] | "ground" | "ignored";
  /** Whether such a shot lies on the natural surface and may carry a facet. */
  readonly ground: boolean;
  /** Parted by blanks. */
  readonly words: string;
}

export const CODE_RULES: readonly CodeRule[] = [
  {
    kind: "utility",
    ground: false,
    words: "INV INVERT IE FLI OHW OHE WIRE OVERHEAD",
  },
  {
    kind: "structure",
    ground: false,
    words:
      "BLDG* BLD BUILDING* HSE HOUSE ROOF* EAVE* GARAGE SHED BARN FF FFE FINFLR DECK PORCH " +
      "CHIMNEY TW TOW WALLTOP RETWALL WALL PARAPET BRIDGE STAIR* STEPS",
  },
  {
    kind: "monument",
    ground: true,
    words:
      "MON MONUMENT* IP IPF IPS FIP SIP IR IRF IRS PIN REBAR* RBR RBF CAP PROP PROPCOR CORNER " +
      "BRASS LSCAP HUB",
  },
  {
    kind: "other",
    ground: false,
    words: "BM TBM BENCH* CP CTRL CONTROL TRAV* STN",
  },
  {
    kind: "utility",
    ground: false,
    words:
      "SSMH SDMH MH MANHOLE SSCO CO CB DI CATCH* INLET HYD* FH WM WV GV GM EM METER* VALVE* PP " +
      "UP POLE* GUY* ANCHOR TRANS* VAULT PED LP SIGN* GAS* SEWER* PIPE* CULV* CMP RCP",
  },
  {
    kind: "street",
    ground: true,
    words:
      "CL EP EOP EC TBC TC BC FOC FL GUT* CURB* LIP ROAD* RD STREET PAVE* ASPH* AC CONC* SW " +
      "SIDEWALK DWY DRIVE* XWALK",
  },
  {
    kind: "water",
    ground: false,
    words: "WS WATERSURF*",
  },
  {
    kind: "water",
    ground: true,
    words: "CREEK* CRK STREAM* SPRING* SEEP* POND* EOW EW WATER DITCH* SWALE* TOB WETLAND* RIVER*",
  },
  {
    kind: "rock",
    ground: false,
    words: "BOULDER* BLDR*",
  },
  {
    kind: "rock",
    ground: true,
    words: "ROCK* OUTCROP* LEDGE* BEDROCK",
  },
  {
    kind: "tree",
    ground: true,
    words:
      "TREE* TR OAK* LIVEOAK* PINE* FIR DFIR CEDAR* REDWOOD* MAPLE* MADRON* BAY LAUREL* EUC* " +
      "PALM* ASH ELM* BIRCH* BEECH* WALNUT* HICKORY* PECAN* CYPRESS* CYP SYCAMORE* SYC ALDER* " +
      "WILLOW* JUNIPER* SPRUCE* HEMLOCK* LOCUST* POPLAR* ASPEN* COTTONWOOD* MAGNOLIA* CHESTNUT* " +
      "CHERRY* DOGWOOD* BUCKEYE* CONIFER* DECID* STUMP*",
  },
  {
    kind: "ground",
    ground: true,
    words:
      "GS GND* GRND GROUND* G NG EG OG SHOT* SPOT* SPT TOPO* NATIVE DIRT* GRASS* TOP* TOE* " +
      "CREST* GB BRK* BREAK* BL RIDGE* VALLEY* SLOPE* BANK* FENCE* FNC FE BW GRADE* BRUSH* XS " +
      "TRAIL* PATH* GRAVEL* PT PNT POINT",
  },
];
