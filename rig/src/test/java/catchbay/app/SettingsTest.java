package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortKind;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Speed;
import catchbay.quantity.VolumeUnit;
import catchbay.record.DocumentException;
import catchbay.run.HuntRules;
import catchbay.run.RunSetup;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Optional;

/**
 * What settings give, and how each mistake in them is named: file, line, key, value and what to do.
 */
final class SettingsTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 2, 3);

    private static final String GOOD =
            """
            data = "kept"
            zone = "America/Chicago"
            [bay]
            name = "Bay 9"
            [scale]
            serial = "SCALE-1"
            date = 2026-01-05
            expiry = 2027-01-05
            unit = "kg"
            resolution_kg = 0.05
            capacity_kg = 300
            [liquid]
            density_kg_per_m3 = 1180
            [trucks.T-12]
            constant_pulses_per_us_gal = 600
            [trucks."31.5"]
            constant_litres_per_pulse = 0.25
            [asked]
            rate_us_gal_per_lane_mile = 40
            lanes = 1
            speed_mph = 30
            [catch]
            seconds = 30
            [port.scale]
            provider = "serial"
            port = "./scale"
            """;

    @TempDir Path folder;

    private Settings settings(String toml) {
        return Settings.of("bay.toml", folder, toml);
    }

    private RunSetup setup(String toml) {
        return settings(toml).setup(Optional.of("T-12"), TODAY);
    }

    private void assertRefused(String expected, String toml) {
        assertEquals(
                expected, assertThrows(DocumentException.class, () -> setup(toml)).getMessage());
    }

    private static String good(String line, String instead) {
        assertTrue(GOOD.contains(line), line);
        return GOOD.replace(line, instead);
    }

    @Test
    void everythingIsFoundWhereItStands() {
        Settings settings = settings(GOOD);
        assertEquals(folder.resolve("kept"), settings.data());
        assertEquals(ZoneId.of("America/Chicago"), settings.zone());
        RunSetup setup = settings.setup(Optional.of("31.5"), TODAY);
        assertEquals("Bay 9", setup.bay());
        assertEquals(TODAY, setup.day());
        assertEquals("31.5", setup.truck().asset());
        assertEquals(0.25, setup.truck().constant().value());
        assertEquals("serial", settings.provider(PortKind.SCALE, "none"));
        assertEquals("none", settings.provider(PortKind.PULSES, "none"));
        assertEquals("./scale", settings.portSection(PortKind.SCALE, setup).text("port"));
    }

    @Test
    void whatIsNotSaidHasItsDefault() {
        Settings settings = settings(GOOD.lines().skip(2).reduce("", (a, b) -> a + b + "\n"));
        assertEquals(folder.resolve("data"), settings.data());
        assertEquals(ZoneId.of("UTC"), settings.zone());
    }

    @Test
    void aDayInTheFileIsTheDay() {
        assertEquals(
                LocalDate.of(2026, 5, 6),
                setup(good("name = \"Bay 9\"", "day = 2026-05-06")).day());
    }

    @Test
    void aThermometerNamedTwice() {
        String sentence =
                assertThrows(
                                DocumentException.class,
                                () ->
                                        setup(
                                                GOOD
                                                        + "\n"
                                                        + "[temperature]\n"
                                                        + "sensors = [\"tank\", \"tank\"]"))
                        .getMessage();
        assertTrue(sentence.endsWith("'tank' is named twice; name it once"), sentence);
    }

    @Test
    void aMisspeltKeyInAnotherUnit() {
        assertRefused(
                "bay.toml line 5: scale.capacity_lb is missing (capasity_kg may be meant); add it"
                    + " as a number, or in another unit as capacity_kg, capacity_g, capacity_oz,"
                    + " capacity_tons, capacity_tonnes",
                good("capacity_kg = 300", "capasity_kg = 300"));
    }

    @Test
    void anUnknownKey() {
        assertRefused(
                "bay.toml line 11: scale.capcity_kg = 300: unknown key; did you mean capacity_kg?"
                    + " The keys here are serial, date, expiry, uncertainty_base_lb,"
                    + " uncertainty_percent, laboratory, calibrated_fahrenheit, unit,"
                    + " resolution_lb, capacity_lb, rest_band_lb, rest_seconds, silent_seconds,"
                    + " weights_within_days, weights_test, shunt_test, linearity_lb,"
                    + " repeatability_lb, eccentricity_lb, creep_lb, zero_drift_lb, hose_lb,"
                    + " drip_lb, yearly_drift_percent, span_per_kelvin_percent, smallest_net_lb,"
                    + " in_place",
                good("capacity_kg = 300", "capcity_kg = 300\ncapacity_kg = 300"));
    }

    @Test
    void aMisspeltKeyThatIsNeeded() {
        assertRefused(
                "bay.toml line 12: liquid.density_kg_per_m3 is missing (densty_kg_per_m3 may be"
                    + " meant); add it as a number, or in another unit as density_lb_per_us_gal",
                good("density_kg_per_m3", "densty_kg_per_m3"));
    }

    @Test
    void anUnknownSection() {
        assertRefused(
                "bay.toml line 3: bays = {\"name\":\"Bay 9\"}: unknown key; did you mean bay? The"
                    + " keys here are bay, reference, scale, diverter, asked, truck, catch, liquid,"
                    + " air, reported, temperature, line, scatter, verdict, session, repeats,"
                    + " guard, part",
                good("[bay]", "[bays]"));
    }

    @Test
    void aTomlMistake() {
        assertRefused(
                "bay.toml line 9 (unit = kg): Unexpected 'k', expected ', \", ''', \"\"\", a"
                    + " number, a boolean, a date/time, an array, or a table; correct this line",
                good("unit = \"kg\"", "unit = kg"));
        assertRefused(
                "bay.toml line 10 (unit = \"kg\"): unit previously defined at line 9, column 1;"
                        + " correct this line",
                good("unit = \"kg\"", "unit = \"kg\"\nunit = \"kg\""));
    }

    @Test
    void aValueOfTheWrongKind() {
        assertRefused(
                "bay.toml line 10: scale.resolution_kg = \"0.05\": it must be a number, without"
                        + " quotes and without a unit",
                good("0.05", "\"0.05\""));
        assertRefused(
                "bay.toml line 7: scale.date = \"2026-13-05\": it must be a day such as 2026-01-31",
                good("2026-01-05", "\"2026-13-05\""));
        assertRefused(
                "bay.toml line 6: scale.serial = 7: it must be a text that is not blank",
                good("\"SCALE-1\"", "7"));
        assertRefused(
                "bay.toml line 23: catch.seconds = nan: it must be a finite number",
                good("seconds = 30", "seconds = nan"));
        assertRefused(
                "bay.toml line 23: catch.seconds = -30: it must be above 0 and at most 86400"
                        + " seconds",
                good("seconds = 30", "seconds = -30"));
        assertRefused(
                "bay.toml line 12: liquid = 5: it must be a section with keys of its own",
                good("[liquid]\ndensity_kg_per_m3 = 1180", "")
                        .replaceFirst("\\[bay]", "liquid = 5\n[bay]")
                        .replace("data = \"kept\"", "\n\n\n\n\n\n\n\n\ndata = \"kept\""));
        assertRefused(
                "bay.toml line 9: scale.unit = \"stone\": unknown mass unit 'stone'; use kg, lb, g,"
                        + " t, ton or oz",
                good("\"kg\"", "\"stone\""));
    }

    @Test
    void aUnitThatIsMissingOrGivenTwice() {
        assertRefused(
                "bay.toml line 5: scale.unit is missing; add it", good("unit = \"kg\"\n", ""));
        assertRefused(
                "bay.toml line 24: catch.minutes = 1: it is given as seconds too; keep one of the"
                        + " two",
                good("seconds = 30", "seconds = 30\nminutes = 1"));
    }

    @Test
    void aZoneThatIsNone() {
        Settings settings = settings(good("America/Chicago", "Mars"));
        assertEquals(
                "bay.toml line 2: zone = \"Mars\": it must be a time zone's name, as in"
                        + " America/Chicago",
                assertThrows(DocumentException.class, settings::zone).getMessage());
    }

    @Test
    void aPortKindThatIsNone() {
        Settings settings = settings(good("[port.scale]", "[port.scales]"));
        assertEquals(
                "bay.toml line 24: port.scales = {\"provider\":\"serial\",\"port\":\"./scale\"}:"
                    + " unknown key; did you mean scale? The keys here are time, contacts, pulses,"
                    + " scale, controller, temperature, pressure, operator, outputs, pulse_output,"
                    + " computer, supervisor",
                assertThrows(DocumentException.class, settings::refuseUnknownPorts).getMessage());
    }

    @Test
    void trucksAreToldApartByNumber() {
        Settings settings = settings(GOOD);
        assertEquals(
                "bay.toml has several trucks; say which with --truck NUMBER: T-12, 31.5",
                assertThrows(DocumentException.class, () -> settings.setup(Optional.empty(), TODAY))
                        .getMessage());
        assertEquals(
                "bay.toml has no truck 9; it has T-12, 31.5, or add a section [trucks.9]",
                assertThrows(DocumentException.class, () -> settings.setup(Optional.of("9"), TODAY))
                        .getMessage());
        String one = good("[trucks.\"31.5\"]\nconstant_litres_per_pulse = 0.25\n", "");
        assertEquals("T-12", settings(one).setup(Optional.empty(), TODAY).truck().asset());
        assertRefused(
                "bay.toml has no truck; add a section [trucks.NUMBER] with its constant",
                one.replace("[trucks.T-12]\nconstant_pulses_per_us_gal = 600\n", ""));
        assertRefused(
                "bay.toml line 14: truck: a bay knows its trucks by number; call this section"
                        + " [trucks.NUMBER]",
                one.replace("[trucks.T-12]", "[truck]"));
        assertRefused(
                "bay.toml line 15: trucks.constant_pulses_per_us_gal = 600: it must stand in a"
                        + " section of its truck, [trucks.NUMBER]",
                one.replace("[trucks.T-12]", "[trucks]"));
        assertRefused(
                "bay.toml line 15: trucks.T-12.asset = \"T-13\": the section's own name is the"
                        + " truck's number; take this key out",
                one.replace("[trucks.T-12]", "[trucks.T-12]\nasset = \"T-13\""));
        assertRefused(
                "bay.toml line 15: trucks.T-12.constnt = 600: unknown key; delete it, or use one of"
                        + " asset, constant_pulses_per_us_gal, base_pulses_per_us_gal, step, least,"
                        + " most, control, debounce_seconds, speed_source",
                one.replace("[trucks.T-12]", "[trucks.T-12]\nconstnt = 600"));
    }

    @Test
    void theCommandLineTakesTheFilesPlace() {
        Settings settings = settings(GOOD);
        settings.override("--seconds", "catch.seconds", 12.5);
        settings.override("--mph", "asked.speed_mph", 20.0);
        RunSetup setup = settings.setup(Optional.of("T-12"), TODAY);
        assertEquals(12_500_000_000L, setup.plan().catchNanos());
        assertEquals(Speed.ofMilesPerHour(20), setup.asked().speed());
    }

    @Test
    void aRefusedOptionIsNamedInsteadOfALine() {
        Settings settings = settings(GOOD);
        settings.override("--seconds", "catch.seconds", -1.0);
        assertEquals(
                "option --seconds = -1.0: it must be above 0 and at most 86400" + " seconds",
                assertThrows(
                                DocumentException.class,
                                () -> settings.setup(Optional.of("T-12"), TODAY))
                        .getMessage());
    }

    @Test
    void filesThatAreNoSettings() throws Exception {
        Path missing = folder.resolve("missing.toml");
        assertEquals(
                "there is no file " + missing + "; give the settings with --settings FILE",
                assertThrows(DocumentException.class, () -> Settings.read(missing)).getMessage());
        assertEquals(
                folder + " is a folder, not a file; give the settings with --settings FILE",
                assertThrows(DocumentException.class, () -> Settings.read(folder)).getMessage());
        Path large = Files.writeString(folder.resolve("large.toml"), "#".repeat(1_000_001));
        assertEquals(
                large
                        + " is larger than 1000000 bytes and so no settings file; give the right"
                        + " one with --settings FILE",
                assertThrows(DocumentException.class, () -> Settings.read(large)).getMessage());
        Path latin =
                Files.write(
                        folder.resolve("latin.toml"),
                        "# Größe".getBytes(StandardCharsets.ISO_8859_1));
        assertEquals(
                latin + " is no text in UTF-8; save it in that encoding",
                assertThrows(DocumentException.class, () -> Settings.read(latin)).getMessage());
    }

    @Test
    void aFileBringsItsOwnFolder() throws Exception {
        Path file = Files.writeString(folder.resolve("bay.toml"), GOOD);
        assertEquals(folder.resolve("kept"), Settings.read(file).data());
    }

    /** Settings of a bay, and a section's example of the manual. */
    private static Settings withExample(String section) throws IOException {
        String manual = Files.readString(Path.of("../src/docs/settings.md"));
        String from = manual.substring(manual.indexOf("    [" + section + "]\n"));
        int end = from.indexOf("\n\n");
        String example = (end < 0 ? from : from.substring(0, end)).indent(-4).stripTrailing();
        return Settings.of(
                "bay.toml", Path.of("").toAbsolutePath(), PlayedBay.SETTINGS + example + "\n");
    }

    /** How an end of a range is hunted for is no part of a run either. */
    @Test
    void theHuntSectionIsNoPartOfASetup() throws Exception {
        Settings settings = withExample("hunt");
        assertEquals(PlayedBay.setup(), settings.setup(Optional.empty(), LocalDate.of(2026, 2, 3)));
        HuntRules rules = settings.hunt();
        assertEquals(Optional.of(gallonsPerMinute(0.5)), rules.low().from());
        assertEquals(Optional.of(gallonsPerMinute(5)), rules.low().to());
        assertEquals(HuntRules.Span.OF_BAY, rules.high());
        assertEquals(0.2, rules.step().value(), 1e-12);
        assertEquals(HuntRules.USUAL.readingNanos(), rules.readingNanos());
        Settings none = Settings.of("bay.toml", Path.of("").toAbsolutePath(), PlayedBay.SETTINGS);
        assertEquals(HuntRules.USUAL, none.hunt(), "what the page says is usual");
        Settings wrong =
                Settings.of("bay.toml", Path.of("").toAbsolutePath(), "[hunt]\nstep_percent = 0\n");
        assertEquals(
                "bay.toml line 2: hunt.step_percent = 0: it must be from 1 to 100 %",
                assertThrows(DocumentException.class, wrong::hunt).getMessage());
    }

    private static FlowRate gallonsPerMinute(double gallons) {
        return FlowRate.perMinute(gallons, VolumeUnit.US_GALLON);
    }

    /** What judges a curve is no part of a run; the example of the manual is read as it stands. */
    @Test
    void theCurveSectionIsNoPartOfASetup() throws Exception {
        Settings settings = withExample("curve");
        assertEquals(PlayedBay.setup(), settings.setup(Optional.empty(), LocalDate.of(2026, 2, 3)));
        assertEquals(3, settings.curve().mix().duties().size());
        assertEquals(60, settings.curve().mix().duties().getFirst().weight());
        assertEquals(
                "bay.toml line 2: curve.linearity_mx_percent = 1: unknown key; did you mean"
                        + " linearity_max_percent?",
                assertThrows(
                                DocumentException.class,
                                () ->
                                        Settings.of(
                                                        "bay.toml",
                                                        Path.of("").toAbsolutePath(),
                                                        "[curve]\nlinearity_mx_percent = 1\n")
                                                .curve())
                        .getMessage()
                        .replaceFirst("\\? .*", "?"));
    }
}
