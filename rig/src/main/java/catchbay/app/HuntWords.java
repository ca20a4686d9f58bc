package catchbay.app;

import catchbay.quantity.FlowRate;
import catchbay.quantity.VolumeUnit;
import catchbay.record.HuntText;
import catchbay.record.HuntText.Done;
import catchbay.record.HuntText.Kept;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.run.HuntEnd;
import catchbay.run.HuntPhase;
import catchbay.run.HuntReading;
import catchbay.run.HuntResult;
import catchbay.run.MeasuredFlow;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.io.PrintStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A hunt for an end of a truck's range in words for a person at a terminal. */
final class HuntWords {

    private static final String ROW = "%-28s %-10s %-10s %-4s %-24s %s";
    private static final String STEP = "  %4s %-5s %9s %9s %7s %8s %9s  %s";

    private HuntWords() {}

    /** What it does now, as a line. */
    static String doing(HuntPhase phase) {
        return switch (phase) {
            case HuntPhase.Begun _ -> "The hunt begins.";
            case HuntPhase.Setting _ -> "Waiting until the flow is set.";
            case HuntPhase.Settling _ -> "Waiting until the flow is steady.";
            case HuntPhase.Turning _ -> "The diverter turns to the tank.";
            case HuntPhase.Reading _ -> "Measuring.";
            case HuntPhase.Draining _ -> "The tank is drained.";
            case HuntPhase.Stopping _ -> "Waiting until the flow is stopped.";
            case HuntPhase.Ended _ -> "The hunt is over.";
        };
    }

    /** A step, as a line while it goes. */
    static String step(HuntReading reading) {
        return String.format(
                Locale.ROOT,
                "Step %d, %s US gal/min: %s%s",
                reading.number(),
                reading.flow().map(flow -> number(flow.rate())).orElse("?"),
                reading.answer().words(),
                reading.note().map(note -> ". " + note).orElse("."));
    }

    /** Prints it. */
    static void print(boolean json, Done done, BayComputer computer) {
        Page.print(json, () -> HuntText.of(done), out -> page(out, done), computer);
    }

    private static void page(PrintStream out, Done done) {
        HuntText.Head head = done.head();
        out.println(
                Words.printable(
                        "Hunt for the "
                                + head.end().key()
                                + " end of truck "
                                + head.asset()
                                + " at "
                                + head.bay()
                                + ", "
                                + head.day()));
        String origin = "origin " + head.origin().key();
        Words.line(
                out,
                "hunt",
                (done.end() instanceof HuntEnd.NotBegun ? "not begun" : head.name())
                        + ", "
                        + origin);
        head.by().ifPresent(by -> Words.line(out, "by", by));
        out.println();
        if (!done.readings().isEmpty()) {
            steps(out, done.readings());
        }
        switch (done.end()) {
            case HuntEnd.Reached(HuntResult result) -> result(out, result);
            case HuntEnd.BrokenOff(String reason) -> Words.line(out, "no result", reason);
            case HuntEnd.NotBegun(String reason) -> Words.line(out, "no result", reason);
        }
        if (head.origin() == TraceLine.Origin.SIMULATED) {
            Words.simulated(out);
        }
        Words.paragraph(out, Cautions.OF_THE_BAYS_STOPS);
    }

    private static void steps(PrintStream out, List<HuntReading> readings) {
        out.println(
                String.format(
                                Locale.ROOT,
                                STEP,
                                "step",
                                "",
                                "asked",
                                "gal/min",
                                "+- %",
                                "pulses",
                                "due",
                                "")
                        .stripTrailing());
        for (HuntReading reading : readings) {
            out.println(
                    String.format(
                            Locale.ROOT,
                            STEP,
                            reading.number(),
                            reading.rising() ? "up" : "down",
                            number(reading.asked()),
                            reading.flow().map(flow -> number(flow.rate())).orElse("-"),
                            reading.flow()
                                    .map(flow ->
                                            String.format(
                                                    Locale.ROOT, "%.2f", flow.expanded().percent()))
                                    .orElse("-"),
                            reading.meter().map(train -> "" + train.pulses()).orElse("-"),
                            reading.meter()
                                    .map(train -> String.format(Locale.ROOT, "%.1f", train.due()))
                                    .orElse("-"),
                            reading.answer().words()));
            reading.note().ifPresent(note -> Words.line(out, "", note));
        }
        out.println();
    }

    private static void result(PrintStream out, HuntResult result) {
        switch (result) {
            case HuntResult.LowEnd low -> {
                Words.line(out, "counts from", measured(low.counting()));
                Words.line(
                        out,
                        "does not count",
                        low.silent()
                                .map(flow -> "up to " + measured(flow))
                                .orElse("was not seen: it counted at the smallest flow tried"));
                Words.line(
                        out,
                        "begins to count",
                        "between "
                                + number(low.least())
                                + " and "
                                + gallons(low.most())
                                + " (95 %)");
                low.dropOut().ifPresent(down -> dropOut(out, down));
            }
            case HuntResult.HighEnd high -> {
                Words.line(
                        out,
                        "follows up to",
                        measured(high.followed()) + ", asked for " + gallons(high.asked()));
                Words.line(
                        out,
                        "falls short",
                        high.beyond()
                                .map(HuntWords::beyond)
                                .orElse("was not seen: it followed all that was tried"));
            }
            case HuntResult.NotFound(String reason) -> Words.line(out, "no result", reason);
        }
    }

    private static void dropOut(PrintStream out, HuntResult.DropOut down) {
        Words.line(
                out,
                "flow falling",
                "it counted down to "
                        + measured(down.counting())
                        + down.silent()
                                .map(flow -> ", and no longer at " + measured(flow))
                                .orElse(", the smallest flow tried"));
    }

    private static String beyond(HuntResult.Beyond beyond) {
        return "of "
                + gallons(beyond.asked())
                + " asked for it gave "
                + beyond.given().map(HuntWords::measured).orElse("an unknown flow");
    }

    private static String measured(MeasuredFlow flow) {
        return String.format(
                Locale.ROOT, "%s +- %.2f %%", gallons(flow.rate()), flow.expanded().percent());
    }

    private static String gallons(FlowRate flow) {
        return number(flow) + " US gal/min";
    }

    private static String number(FlowRate flow) {
        return String.format(Locale.ROOT, "%.3f", flow.perMinute(VolumeUnit.US_GALLON));
    }

    /**
     * The hunts, newest first, at most so many; answers the exit code.
     *
     * @param truck only of this truck, and of those that do not say any more of which
     */
    static int list(
            PrintStream out, boolean json, JournalFolder hunts, Optional<String> truck, int most)
            throws IOException {
        List<JournalFolder.End> ends = new ArrayList<>();
        for (JournalFolder.End end : hunts.ends()) {
            Optional<String> asset =
                    hunts.lines(end.name())
                            .flatMap(lines -> lines.stream().findFirst())
                            .flatMap(HuntText::readHead)
                            .map(HuntText.Head::asset);
            if (truck.isEmpty() || asset.isEmpty() || asset.equals(truck)) {
                ends.add(end);
            }
        }
        return new JournalList<>(
                        HuntText::read,
                        "found",
                        String.format(
                                Locale.ROOT,
                                ROW,
                                "hunt",
                                "truck",
                                "day",
                                "end",
                                "US gal/min",
                                "origin"),
                        HuntWords::row,
                        "No hunt is kept here.")
                .print(out, json, ends, most);
    }

    private static String row(Kept hunt) {
        HuntText.Head head = hunt.head();
        return String.format(
                Locale.ROOT,
                ROW,
                head.name(),
                Words.printable(head.asset()),
                head.day(),
                head.end().key(),
                inShort(hunt.result()),
                head.origin().key());
    }

    private static String inShort(HuntResult result) {
        return switch (result) {
            case HuntResult.LowEnd low -> "counts from " + number(low.counting().rate());
            case HuntResult.HighEnd high -> "follows up to " + number(high.followed().rate());
            case HuntResult.NotFound _ -> "not found";
        };
    }
}
