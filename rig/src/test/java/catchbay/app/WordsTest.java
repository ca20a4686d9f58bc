package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.record.ResultText;
import catchbay.run.LiveView;
import catchbay.run.Outcome;
import catchbay.run.Part;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;

/** What a person at a terminal reads during a catch and after it. */
final class WordsTest {

    private final PlayedBay bay = new PlayedBay();
    private final ByteArrayOutputStream shown = new ByteArrayOutputStream();
    private final PrintStream out = new PrintStream(shown, true, StandardCharsets.UTF_8);
    private final Screen screen = new Screen(() -> out, false, 78);

    private Outcome run() {
        try (Progress progress = new Progress(screen, false)) {
            return new RunLoop(bay.ports(), new PlayedBay.MemoryTrace(), progress)
                    .run(PlayedBay.setup());
        }
    }

    private List<String> shown() {
        screen.settle();
        List<String> lines = shown.toString(StandardCharsets.UTF_8).lines().toList();
        shown.reset();
        return lines;
    }

    private List<String> page(Outcome outcome) {
        return page(PlayedBay.setup(), outcome);
    }

    private List<String> page(RunSetup setup, Outcome outcome) {
        screen.settle();
        shown.reset();
        Words.print(
                out,
                new ResultText.Provenance(
                        "20260203-100000-T-12", "simulated", ResultText.Seal.SEALED, 1),
                setup,
                outcome);
        return shown();
    }

    @Test
    void sentencesAreAsWideAsTheTerminalWithinBounds() {
        assertEquals(40, Words.width(Optional.of("40")));
        assertEquals(55, Words.width(Optional.of("55")));
        assertEquals(40, Words.width(Optional.of("12")), "never narrower");
        assertEquals(78, Words.width(Optional.of("200")), "long rows are hard to read");
        for (String none : List.of("", "-1", "many", "99999999999")) {
            assertEquals(78, Words.width(Optional.of(none)), none);
        }
        assertEquals(78, Words.width(Optional.empty()));
        assertEquals(
                List.of(
                        "  by                 A. Person who has a",
                        "                     long name"),
                Words.wrapped("  by                ", 20, "A. Person who has a long name", 40));
    }

    @Test
    void lessThanAMinuteIsNotNone() {
        assertEquals("less than a minute left", SweepWords.left(59_999_999_999L));
        assertEquals("about 1 min left", SweepWords.left(60_000_000_000L));
        assertEquals("15 min", SweepWords.interval(900_000_000_000L));
        assertEquals("20 s", SweepWords.interval(20_000_000_000L));
        assertEquals("90 s", SweepWords.interval(90_000_000_000L));
    }

    @Test
    void progressSaysWhatIsAwaited() {
        run();
        assertEquals(
                List.of(
                        "waiting for the checklist",
                        "waiting until nothing flows and the scale rests",
                        "waiting for the truck's display to be typed",
                        "waiting for the flow to be started",
                        "catching for 2 s",
                        "waiting for the flow to be stopped",
                        "waiting until nothing flows",
                        "letting the tank drip for 0.2 s",
                        "reading the scale",
                        "waiting for the truck's display to be typed",
                        "comparing",
                        "ended, outputs in their safe state"),
                shown().stream().map(line -> line.substring(11)).toList());
    }

    /** The figure of each row stands within twenty columns: a narrower terminal there is none. */
    @Test
    void everyRowBeginsWithWhatMatters() {
        LiveView view =
                new LiveView(
                        "catching",
                        Optional.of(
                                new Part(
                                        "S-20260203-T-12",
                                        3,
                                        "A. Tester",
                                        Optional.empty(),
                                        Optional.empty(),
                                        0,
                                        Optional.empty(),
                                        Volume.ZERO,
                                        Optional.empty())),
                        83_000_000_000L,
                        23_400_000_000L,
                        Optional.of(new LiveView.Left(36_600_000_000L, true)),
                        3_600_000_000_000L,
                        Optional.of(
                                new LiveView.Flow(
                                        FlowRate.perMinute(149.987, VolumeUnit.US_GALLON),
                                        PulseLine.REFERENCE,
                                        false)),
                        Optional.of(Volume.ofUsGallons(103.833)),
                        Optional.of(Volume.ofUsGallons(104.019)),
                        Optional.of(new Mass(1203.46)),
                        Optional.of(new Ratio(0.401)),
                        Optional.of(new Ratio(0.73)),
                        Optional.of(new Temperature(-12.34)),
                        false);
        List<String> rows = LiveWords.rows("catching for 60 s", "back to the bypass", view);
        assertEquals(
                List.of(
                        "catching for 60 s",
                        "leg 3 of S-20260203-T-12",
                        "0:36 left at most, 0:23 gone",
                        "run 1:23, 60:00 more at least",
                        "flow 149.99 US gal/min (reference not certified there)",
                        "measured 103.83 US gal",
                        "reported 104.02 US gal",
                        "tank 1203.5 kg, 40 % of scale",
                        "tank 73 % full",
                        "liquid -12.3 C",
                        "then back to the bypass"),
                rows);
        for (String figure : List.of("3", "0:36", "60:00", "149.99", "103.83", "104.02", "40")) {
            assertTrue(
                    rows.stream().anyMatch(row -> shortened(row).contains(figure)),
                    figure + " in " + rows);
        }
    }

    /** What nineteen columns show, and in the twentieth whatever comes last. */
    private static String shortened(String row) {
        return row.substring(0, Math.min(row.length(), 19));
    }

    /** Where nothing can be drawn anew, how it stands comes as a line every ten seconds. */
    @Test
    void aLongCatchIsToldOfEveryTenSeconds() {
        RunSetup setup =
                PlayedBay.setup(PlayedBay.SETTINGS.replace("seconds = 2\n", "seconds = 25\n"));
        try (Progress progress = new Progress(screen, true)) {
            new RunLoop(bay.ports(), new PlayedBay.MemoryTrace(), progress).run(setup);
        }
        List<String> lines = shown().stream().map(line -> line.substring(11)).toList();
        int caught = lines.indexOf("catching for 25 s");
        // 2 kg/s of 1.18 kg/L are 1.695 L/s, 0.4478 US gal/s: 4.48 and 8.96 US gal but for the age
        // of
        // the last frame. The scale stood at 20 kg of 300.
        assertEquals(
                List.of(
                        "0:15 left, 0:10 gone; measured 4.47 US gal; tank 40.0 kg, 13 % of scale",
                        "0:05 left, 0:20 gone; measured 8.95 US gal; tank 60.0 kg, 20 % of scale",
                        "waiting for the flow to be stopped"),
                lines.subList(caught + 1, caught + 4));
    }

    /**
     * 4.2 kg are 3.562 L, 0.941 US gal; asked are 50 x 30 x 2.1 / 3600; the display shows 4.2 /
     * 1.18 x 1.05 L. The set speed is good to 0.5 %, evenly spread: 0.95 of it hold 95 %.
     */
    @Test
    void aMeasuredCatch() {
        List<String> lines = page(run());
        assertEquals(
                List.of(
                        "Catch test of truck T-12, as found, at bay, 2026-02-03",
                        "  run                20260203-100000-T-12, trace sealed, origin simulated",
                        "",
                        "                   US gal            L  +- gal (95 %)",
                        "  asked             0.875        3.312          0.004",
                        "  reported          0.987        3.737          0.002",
                        "  measured          0.941        3.562          0.006",
                        "",
                        "  meter error          +4.91 % +- 0.70 %   (reported - measured) /"
                                + " measured",
                        "  control error       +12.83 % +- 0.58 %   (reported - asked) / asked",
                        "  application error    +7.55 % +- 0.90 %   (measured - asked) / asked"),
                lines.subList(0, 11));
        assertTrue(lines.stream().allMatch(line -> line.length() <= 80), lines::toString);
        assertEquals("  speaks of a real truck.", lines.getLast());
    }

    /** A density that was found is shown with how, what it is worth and what to beware of. */
    @Test
    void aFoundDensityIsShown() {
        RunSetup found =
                PlayedBay.setup(
                        PlayedBay.SETTINGS.replace(
                                "density_kg_per_m3 = 1180",
                                "kind = \"cacl2\"\n"
                                        + "strength_percent = 30\n"
                                        + "temperature_celsius = 5"));
        Outcome outcome;
        try (Progress progress = new Progress(screen, false)) {
            outcome = new RunLoop(bay.ports(), new PlayedBay.MemoryTrace(), progress).run(found);
        }
        List<String> lines = page(found, outcome);
        String all = String.join("\n", lines);
        String words = String.join(" ", lines).replaceAll(" +", " ");
        // 1288.82 kg/m3: the check table of Laliberte's model at 30 % and 5 degrees.
        assertTrue(all.contains("\n  density            1288.82 +- "), all);
        assertTrue(words.contains("computed for 30 % calcium chloride brine at 5.0 C"), all);
        assertTrue(all.contains("\n                     below fitted temperature\n"), all);
        assertTrue(words.contains("warning: 30 % calcium chloride brine is stronger"), all);
        assertTrue(lines.stream().allMatch(line -> line.length() <= 80), all);
    }

    @Test
    void aStoppedOne() {
        bay.input(1.5, at -> new RunInput.StopPressed(at, "M. Example"));
        assertEquals(
                List.of(
                        "No result (stopped).",
                        "  Stopped by M. Example; the bay is in its safe state and the catch does"
                                + " not",
                        "  count."),
                page(run()).subList(3, 6));
    }

    @Test
    void aVoidOneHasNoUnderscore() {
        assertEquals(
                List.of("No result (scale changed).", "  The scale sent lb where kg is set."),
                page(new Outcome.Void(
                                Outcome.Cause.SCALE_CHANGED, "The scale sent lb where kg is set."))
                        .subList(3, 5));
    }

    @Test
    void aNameThatIsLongerThanItsColumnHasARowOfItsOwn() {
        ByteArrayOutputStream page = new ByteArrayOutputStream();
        PrintStream out = new PrintStream(page, true, StandardCharsets.UTF_8);
        Words.line(out, "exactly 18 letters", "1.5");
        Words.line(out, "meter against scale (A, B)", "2.5");
        assertEquals(
                """
                  exactly 18 letters 1.5
                  meter against scale (A, B)
                                     2.5
                """,
                page.toString(StandardCharsets.UTF_8));
    }
}
