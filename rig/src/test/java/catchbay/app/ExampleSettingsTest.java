package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import org.junit.jupiter.api.Test;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** The example settings that come with the program can be used as they are. */
final class ExampleSettingsTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 2, 3);

    private static RunSetup setup(String example, String truck) {
        Settings settings = Settings.read(Path.of("../src/examples", example));
        settings.refuseUnknownPorts();
        settings.curve();
        RunSetup setup = settings.setup(Optional.of(truck), TODAY);
        assertEquals(List.of(), SetupCheck.problems(setup));
        assertEquals(List.of(), PortNeeds.problems(settings, setup));
        return setup;
    }

    @Test
    void aBayWithOnlyAScale() {
        RunSetup setup = setup("scale-only.toml", "T-12");
        assertTrue(
                setup.reference().isEmpty()
                        && setup.diverter().isEmpty()
                        && setup.scale().isPresent());
        assertEquals(RunSetup.Window.STANDING, setup.plan().window());
        assertEquals(RunSetup.FlowBy.OPERATOR, setup.plan().flowBy());
        assertTrue(setup.reported() instanceof RunSetup.Reported.Display);
    }

    @Test
    void aWholeBay() {
        for (String truck : List.of("T-12", "T-31")) {
            RunSetup setup = setup("full-bay.toml", truck);
            assertTrue(
                    setup.reference().isPresent()
                            && setup.diverter().isPresent()
                            && setup.scale().isPresent());
            assertEquals(RunSetup.Window.FLYING, setup.plan().window());
            // By hand: 1.178 times water's 999.017 at 60 F, and 0.52 kg/m3 per C for 5.6 C.
            assertEquals(
                    1.178 * 999.017 + 0.52 * 5.5556,
                    setup.liquid().density().kilogramsPerCubicMetre(),
                    0.1);
        }
    }

    @Test
    void noExampleIsLeftOut() throws Exception {
        try (var files = Files.list(Path.of("../src/examples"))) {
            assertEquals(
                    List.of("flow-range.plan.toml", "full-bay.toml", "scale-only.toml"),
                    files.map(file -> file.getFileName().toString())
                            .filter(name -> name.endsWith(".toml"))
                            .sorted()
                            .toList());
        }
    }
}
