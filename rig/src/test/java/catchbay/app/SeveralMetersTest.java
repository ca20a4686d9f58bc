package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortKind;
import catchbay.record.DocumentException;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Optional;

/**
 * A bay with a small and a large reference meter whose ranges overlap from 8 to 20 gal/min: which
 * one a catch takes, which line its pulses come on, and what is refused.
 */
final class SeveralMetersTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 2, 3);

    private static final String METERS =
            """
            [references.small]
            serial = "SMALL-1"
            date = 2026-01-05
            expiry = 2026-12-31
            uncertainty_percent = 0.2
            debounce_us = 50
            points = [
                { flow_us_gal_per_min = 0.2, pulses_per_us_gal = 6000.0 },
                { flow_us_gal_per_min = 20.0, pulses_per_us_gal = 6001.0 },
            ]

            [references.large]
            serial = "LARGE-1"
            date = 2026-01-05
            expiry = 2026-12-31
            uncertainty_percent = 0.3
            yearly_drift_percent = 0.4
            points = [
                { flow_us_gal_per_min = 8.0, pulses_per_us_gal = 500.0, uncertainty_percent = 0.3 },
                { flow_us_gal_per_min = 20.0, pulses_per_us_gal = 501.0, uncertainty_percent = 0.1 },
                { flow_us_gal_per_min = 150.0, pulses_per_us_gal = 500.0, uncertainty_percent = 0.1 },
            ]

            """;

    private static final String LINES =
            """
            [port.pulses]
            provider = "gpiochip"
            chip = "pinctrl-bcm2711"
            truck_line = 5
            truck_companion = 6

            [port.pulses.small]
            reference_line = 17
            reference_companion = 18

            [port.pulses.large]
            reference_line = 22
            reference_companion = 23
            """;

    private static String example() {
        try {
            return Files.readString(Path.of("../src/examples/full-bay.toml"));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The example with these meters and lines in place of its own. */
    private static String bay(String meters, String lines) {
        String text = example();
        int from = text.indexOf("[references.small]");
        int to = text.indexOf("# The scale under the catch tank");
        String pulses = "[port.pulses]\nprovider = \"stand-in\"\n";
        assertTrue(from > 0 && to > from && text.contains(pulses));
        return (text.substring(0, from) + meters + text.substring(to)).replace(pulses, lines);
    }

    private static Settings settings(String toml) {
        return Settings.of("bay.toml", Path.of("."), toml);
    }

    /** At 15 gal on a lane-mile a mile an hour asks for a quarter of a gallon a minute. */
    private static RunSetup at(double gallonsPerMinute, Settings settings) {
        settings.override("--mph", Settings.SPEED, gallonsPerMinute * 4);
        return settings.setup(Optional.of("T-12"), TODAY);
    }

    private static String serial(RunSetup setup) {
        return setup.reference().orElseThrow().certificate().serial();
    }

    private static String refusal(Runnable what) {
        return assertThrows(DocumentException.class, what::run).getMessage();
    }

    @Test
    void theOneThatIsCertifiedAtTheFlowIsTaken() {
        assertEquals("SMALL-1", serial(at(1, settings(bay(METERS, LINES)))));
        assertEquals("LARGE-1", serial(at(100, settings(bay(METERS, LINES)))));
    }

    /**
     * From 8 to 20 gal/min the large one's uncertainty falls from 0.3 % to 0.1 % along a straight
     * line: at 14 gal/min both have 0.2 %.
     */
    @Test
    void ofTwoTheOneWithTheSmallestUncertaintyThere() {
        assertEquals("SMALL-1", serial(at(13.5, settings(bay(METERS, LINES)))));
        assertEquals("LARGE-1", serial(at(14.5, settings(bay(METERS, LINES)))));
    }

    @Test
    void oneOutOfDateGivesWayToOneThatIsNot() {
        String old = METERS.replaceFirst("2026-12-31", "2026-02-02");
        assertEquals("LARGE-1", serial(at(10, settings(bay(old, LINES)))));
        RunSetup alone = at(1, settings(bay(old, LINES)));
        assertEquals("SMALL-1", serial(alone));
        assertTrue(
                SetupCheck.sentences(SetupCheck.problems(alone)).contains("expired on 2026-02-02"));
    }

    @Test
    void theNamedOneIsTakenWithAllItsDoubts() {
        Settings settings = settings(bay(METERS, LINES));
        settings.chooseReference(Optional.of("large"));
        RunSetup setup = at(10, settings);
        assertEquals("LARGE-1", serial(setup));
        assertEquals(0.004, setup.doubts().reference().driftPerYear().value(), 1e-12);
        assertEquals(0, setup.reference().orElseThrow().debounceNanos());
        Settings small = settings(bay(METERS, LINES));
        small.chooseReference(Optional.of("small"));
        assertEquals(50_000, at(10, small).reference().orElseThrow().debounceNanos());
    }

    @Test
    void aFlowThatNoneIsCertifiedAtNamesTheirRanges() {
        assertEquals(
                "bay.toml: No reference meter is certified at the asked 160 US gal/min: small from"
                    + " 0.2 US gal/min to 20 US gal/min, large from 8 US gal/min to 150 US gal/min;"
                    + " ask for a flow within one of these ranges, or measure by scale. A meter can"
                    + " be named with --reference.",
                refusal(() -> at(160, settings(bay(METERS, LINES)))));
    }

    @Test
    void whatTheScaleMeasuresNeedsNoMeter() {
        String byScale = bay(METERS, LINES).replace("\"reference\"\nseconds", "\"scale\"\nseconds");
        assertTrue(at(160, settings(byScale)).reference().isEmpty());
        assertEquals("SMALL-1", serial(at(1, settings(byScale))));
    }

    @Test
    void eachHasItsOwnLine() {
        Settings settings = settings(bay(METERS, LINES));
        settings.refuseUnknownPorts();
        assertEquals(
                17,
                settings.portSection(PortKind.PULSES, at(1, settings))
                        .whole("reference_line", 0, 100, 0));
        assertEquals(
                22,
                settings.portSection(PortKind.PULSES, at(100, settings))
                        .whole("reference_line", 0, 100, 0));
        Settings.PortSection section = settings.portSection(PortKind.PULSES, at(1, settings));
        assertTrue(
                refusal(section::finish)
                        .contains("port.pulses.chip = \"pinctrl-bcm2711\": unknown key"));
        assertTrue(
                section.refused("reference_line", "so").getMessage().matches("bay.toml line .*"));
    }

    @Test
    void contradictionsAreRefused() {
        assertTrue(
                refusal(() -> at(1, settings(bay(METERS + "[reference]\n", LINES))))
                        .contains("a bay has one reference here or several under references"));
        assertTrue(
                refusal(() ->
                                settings(bay(METERS.replace("LARGE-1", "SMALL-1"), LINES))
                                        .chooseReference(Optional.empty()))
                        .contains("the meter small has the same"));
        assertEquals(
                "option --reference: 'huge' is none of the references in bay.toml: small, large",
                refusal(() -> settings(bay(METERS, LINES)).chooseReference(Optional.of("huge"))));
        assertEquals(
                "option --reference: bay.toml has no sections [references.NAME] to choose from;"
                        + " leave it out",
                refusal(() -> settings(bay("", LINES)).chooseReference(Optional.of("small"))));
    }

    @Test
    void linesThatContradictEachOtherAreRefused() {
        assertTrue(ports(LINES.replace("= 22", "= 17")).contains("this line is small's already"));
        assertTrue(
                ports(LINES.replace("= 22", "= 5")).contains("this line is truck_line's already"));
        assertTrue(
                ports(LINES.replace("reference_line = 22\n", ""))
                        .contains("every reference meter needs the line"));
        assertTrue(
                ports(LINES.replace("truck_line", "reference_line"))
                        .contains("write this in [port.pulses.NAME]"));
        assertTrue(
                ports(LINES.replace("reference_line = 22", "speed_line = 22"))
                        .contains("only keys that begin with reference differ"));
    }

    private static String ports(String lines) {
        return refusal(() -> settings(bay(METERS, lines)).refuseUnknownPorts());
    }
}
