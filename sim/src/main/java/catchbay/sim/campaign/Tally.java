package catchbay.sim.campaign;

import catchbay.sim.FaultKind;
import catchbay.sim.Outlook;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/**
 * What a number of sweeps came to. Rates and times are of the sweeps with one fault alone, so that
 * nothing is put down to the wrong one.
 */
final class Tally {

    private final Map<FaultKind, Row> rows = new EnumMap<>(FaultKind.class);
    private final Map<FaultKind, Map<String, Integer>> unseen = new EnumMap<>(FaultKind.class);
    private final List<String> complaints = new ArrayList<>();
    private int sweeps;
    private int catches;
    private int combined;
    private int falseAlarms;
    private int overflows;

    /** Of one kind of fault, alone in its sweep. */
    private static final class Row {
        private final int[] ends = new int[SweepCheck.End.values().length];
        private int falseAlarms;
        private final List<Long> noticedNanos = new ArrayList<>();

        private int of(SweepCheck.End end) {
            return ends[end.ordinal()];
        }

        private int all() {
            return Arrays.stream(ends).sum();
        }
    }

    void add(SweepCheck check) {
        sweeps++;
        catches += check.catches();
        falseAlarms += check.falseAlarms();
        overflows += check.overflowed() ? 1 : 0;
        if (!check.complaints().isEmpty()) {
            complaints.add(check.report());
        }
        if (!check.single()) {
            combined++;
        }
        for (SweepCheck.Strike strike : check.strikes()) {
            FaultKind kind = strike.fault().kind();
            if (check.single()) {
                Row row = rows.computeIfAbsent(kind, _ -> new Row());
                row.ends[strike.end().ordinal()]++;
                row.falseAlarms += strike.falseAlarm() ? 1 : 0;
                strike.noticedNanos().ifPresent(row.noticedNanos::add);
            }
            boolean wrong = strike.end() == SweepCheck.End.WRONG && spoils(strike.outlook());
            if (wrong && check.single() || kind == FaultKind.NOZZLE_CLOGGED) {
                unseen.computeIfAbsent(kind, _ -> new TreeMap<>())
                        .merge(strike.outlook().sentence(), 1, Integer::sum);
            }
        }
    }

    private static boolean spoils(Outlook outlook) {
        return outlook.effect() != Outlook.Effect.COURSE && !outlook.detectable();
    }

    /** This and what another one has counted. */
    void add(Tally other) {
        sweeps += other.sweeps;
        catches += other.catches;
        combined += other.combined;
        falseAlarms += other.falseAlarms;
        overflows += other.overflows;
        complaints.addAll(other.complaints);
        other.rows.forEach((kind, row) -> {
            Row mine = rows.computeIfAbsent(kind, _ -> new Row());
            Arrays.setAll(mine.ends, i -> mine.ends[i] + row.ends[i]);
            mine.falseAlarms += row.falseAlarms;
            mine.noticedNanos.addAll(row.noticedNanos);
        });
        other.unseen.forEach((kind, reasons) ->
                reasons.forEach((reason, times) ->
                        unseen.computeIfAbsent(kind, _ -> new TreeMap<>())
                                .merge(reason, times, Integer::sum)));
    }

    int sweeps() {
        return sweeps;
    }

    int catches() {
        return catches;
    }

    /** What must not be, a text for each sweep that it was found in. */
    List<String> complaints() {
        return List.copyOf(complaints);
    }

    /** The counts, as lines of Markdown. */
    List<String> summary() {
        return List.of(
                "| sweeps | with one fault | with two or three | catches played | false alarms "
                        + "without a fault | overflows | sweeps with a complaint |",
                "| --- | --- | --- | --- | --- | --- | --- |",
                text(
                        "| %d | %d | %d | %d | %d | %d | %d |",
                        sweeps,
                        sweeps - combined,
                        combined,
                        catches,
                        falseAlarms,
                        overflows,
                        complaints.size()));
    }

    /** A row for each kind of fault in a group, as lines of Markdown. */
    List<String> table(FaultKind.Group group) {
        List<String> lines = new ArrayList<>();
        lines.add(
                "| fault | began | void | false alarms | told | accepted, right | accepted, wrong |"
                        + " noticed of those that mattered, % | time to the end: median, s |"
                        + " longest, s |");
        lines.add("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        for (FaultKind kind : FaultKind.values()) {
            if (kind.group() == group) {
                lines.add(line(kind, rows.getOrDefault(kind, new Row())));
            }
        }
        return lines;
    }

    private static String line(FaultKind kind, Row row) {
        int noticed = row.of(SweepCheck.End.VOID) + row.of(SweepCheck.End.TOLD);
        int mattered = noticed + row.of(SweepCheck.End.WRONG);
        return text(
                "| `%s`: %s | %d | %d | %d | %d | %d | %d | %s | %s | %s |",
                kind.key(),
                kind.words(),
                row.all(),
                row.of(SweepCheck.End.VOID),
                row.falseAlarms,
                row.of(SweepCheck.End.TOLD),
                row.of(SweepCheck.End.RIGHT),
                row.of(SweepCheck.End.WRONG),
                mattered == 0 ? "-" : text("%.1f", 100.0 * noticed / mattered),
                seconds(row, 0.5),
                seconds(row, 1));
    }

    private static String seconds(Row row, double share) {
        if (row.noticedNanos.isEmpty()) {
            return "-";
        }
        long[] sorted = row.noticedNanos.stream().mapToLong(Long::longValue).sorted().toArray();
        return text("%.1f", sorted[(int) Math.round(share * (sorted.length - 1))] / 1e9);
    }

    /** What was accepted and wrong, and why nothing fitted could tell, as lines of Markdown. */
    List<String> unseen() {
        List<String> lines = new ArrayList<>();
        lines.add("| fault | accepted unseen | why |");
        lines.add("| --- | --- | --- |");
        unseen.forEach((kind, reasons) ->
                reasons.forEach((reason, times) ->
                        lines.add(text("| `%s` | %d | %s |", kind.key(), times, reason))));
        return lines;
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
