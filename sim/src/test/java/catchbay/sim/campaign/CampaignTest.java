package catchbay.sim.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.Outcome;
import catchbay.sim.Bounds;
import catchbay.sim.CatchRun;
import catchbay.sim.Fault;
import catchbay.sim.FaultKind;
import catchbay.sim.Outlook;
import catchbay.sim.Scenario;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * A thousand whole catches of invented bays in which things go wrong. No accepted measured amount
 * may be wrong: further off the world's truth than {@link Bounds}, which for a catch of 5 US gal or
 * more is at most half a per cent. What the fitted equipment cannot notice is counted and named.
 * Fresh seeds on demand: {@code -Dcatchbay.seeds=FROM-TO}; one seed again: {@code
 * -Dcatchbay.seeds=N-N}.
 */
final class CampaignTest {

    private static final String SEEDS = System.getProperty("catchbay.seeds", "1-1000");

    /** Only a sweep empties a tank before a catch, or asks whether somebody is there. */
    private static final EnumSet<FaultKind> OF_SWEEPS =
            EnumSet.of(FaultKind.DRAIN_STUCK, FaultKind.ATTENDANT_GONE);

    @Test
    void noFaultThatCanBeNoticedLeavesAWrongAmountAccepted() {
        long[] span = span();
        Map<String, Map<String, Integer>> table = new TreeMap<>();
        List<String> complaints = new ArrayList<>();
        int accepted = 0;
        for (long seed = span[0]; seed <= span[1]; seed++) {
            Verdict verdict;
            try {
                verdict = Verdict.of(CatchRun.of(Scenario.drawn(seed).withFaults()));
            } catch (AssertionError endless) {
                complaints.add(endless.getMessage());
                continue;
            }
            if (!verdict.complaints().isEmpty()) {
                complaints.add(verdict.report());
            }
            accepted += verdict.run().outcome() instanceof Outcome.Measured ? 1 : 0;
            count(table, verdict);
        }
        print(table);
        assertEquals(List.of(), complaints, () -> String.join("\n", complaints));
        long runs = span[1] - span[0] + 1;
        if (runs >= 1000) {
            Set<String> kinds =
                    EnumSet.complementOf(OF_SWEEPS).stream()
                            .map(FaultKind::key)
                            .collect(Collectors.toSet());
            assertEquals(kinds, table.keySet(), "every kind of fault was drawn");
            assertTrue(
                    accepted > runs / 5 && accepted < runs * 4 / 5,
                    accepted + " of " + runs + " accepted");
        }
    }

    private static void count(Map<String, Map<String, Integer>> table, Verdict verdict) {
        for (Fault fault : verdict.run().scenario().options().faults()) {
            Outlook outlook = Outlook.of(fault, verdict.run().scenario());
            Map<String, Integer> row =
                    table.computeIfAbsent(fault.kind().key(), _ -> new TreeMap<>());
            row.merge("all", 1, Integer::sum);
            row.merge(verdict.endFor(fault), 1, Integer::sum);
            row.merge(
                    outlook.detectable() ? "can be noticed" : "cannot be noticed", 1, Integer::sum);
        }
    }

    private static void print(Map<String, Map<String, Integer>> table) {
        List<String> columns =
                List.of(
                        "all",
                        "can be noticed",
                        "cannot be noticed",
                        "void",
                        "accepted, right",
                        "accepted, wrong unseen",
                        "accepted, report wrong unseen",
                        "accepted, wrong by another");
        StringBuilder text =
                new StringBuilder("Faults of the seeds " + SEEDS + " (runs have one to three):\n");
        text.append(String.format(Locale.ROOT, "%-18s", ""));
        columns.forEach(column -> text.append(" | ").append(column));
        table.forEach((kind, row) -> {
            text.append(String.format(Locale.ROOT, "%n%-18s", kind));
            for (String column : columns) {
                text.append(
                        String.format(
                                Locale.ROOT,
                                " | %" + column.length() + "d",
                                row.getOrDefault(column, 0)));
            }
        });
        System.out.println(text);
    }

    private static long[] span() {
        String[] ends = SEEDS.split("-");
        return new long[] {Long.parseLong(ends[0]), Long.parseLong(ends[1])};
    }

    /**
     * Where nothing goes wrong every catch is measured, none is void, and the truth lies within its
     * bound.
     */
    @Test
    void withoutAFaultEveryCatchIsMeasuredRightly() {
        int covered = 0;
        int runs = 300;
        for (long seed = 1; seed <= runs; seed++) {
            CatchRun run = CatchRun.of(Scenario.drawn(seed));
            Verdict verdict = Verdict.of(run);
            assertEquals(List.of(), verdict.complaints(), verdict::report);
            assertEquals("accepted, right", verdict.end(), verdict::report);
            Outcome.Measured measured = (Outcome.Measured) run.outcome();
            var estimate = measured.result().comparison().measured();
            double off = Math.abs(estimate.volume().litres() - run.truth().litres());
            covered += off <= estimate.expanded().litres() ? 1 : 0;
        }
        assertTrue(
                covered >= 0.95 * runs,
                "the stated interval held the truth in " + covered + " of " + runs);
    }
}
