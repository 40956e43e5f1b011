import type {BookAsOf} from "../io/readBook.ts";
import type {Beside, Report} from "./compose.ts";
import type {ReportName} from "./reportNames.ts";

const makers: Record<ReportName, () => Promise<(read: BookAsOf, beside: Beside) => Report>> = {
  monthly: async () => (await import("./monthly.ts")).monthlyReport,
  suppliers: async () => (await import("./suppliers.ts")).suppliersReport,
  season: async () => (await import("./season.ts")).seasonReport,
  seasoning: async () => (await import("./seasoning.ts")).seasoningReport,
  rack: async () => (await import("./rack.ts")).rackReport,
  "yard-card": async () => (await import("./yardCard.ts")).yardCardReport
};

/** Makes one report; what it is made of is loaded only now. */
export async function makeReport(name: ReportName, read: BookAsOf, beside: Beside): Promise<Report> {
  return (await makers[name]())(read, beside);
}
