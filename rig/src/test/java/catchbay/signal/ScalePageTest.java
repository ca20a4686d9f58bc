package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/** The patterns printed in docs/operating/scale.md read the lines printed beside them. */
class ScalePageTest {

    private static final Path PAGE = Path.of("../src/docs/operating/scale.md");

    private static final Pattern EXAMPLE =
            Pattern.compile(
                    "^    line {5}(?<line>.*)\n"
                            + "    pattern {2}(?<pattern>.*)\n"
                            + "(?:    unit {5}(?<unit>.*)\n"
                            + ")?",
                    Pattern.MULTILINE);

    @Test
    void theExamplesOnThePageAreRead() throws IOException {
        List<MatchResult> examples = EXAMPLE.matcher(Files.readString(PAGE)).results().toList();
        assertEquals(3, examples.size());
        assertEquals(
                new Decoded.Value<>(new ScaleFrame.Weight(12.5, MassUnit.KILOGRAM, false, false)),
                scale(examples.get(0), Optional.empty()).decode(line(examples.get(0))));
        assertEquals(
                new Decoded.Value<>(new ScaleFrame.Weight(1234.5, MassUnit.POUND, false, false)),
                scale(
                                examples.get(1),
                                Optional.of(MassUnit.ofSymbol(examples.get(1).group("unit"))))
                        .decode(line(examples.get(1))));
        MatchResult controller = examples.get(2);
        VolumeUnit unit = VolumeUnit.ofSuffix(controller.group("unit"));
        assertEquals(
                new Decoded.Value<>(Volume.ofUsGallons(1234.5)),
                new TotalPattern(controller.group("pattern"), Optional.of(unit))
                        .decode(line(controller)));
        assertTrue(
                Files.readString(PAGE)
                        .contains("pattern  = '''" + controller.group("pattern") + "'''"),
                "the settings example shows the same pattern");
    }

    private static StreamPattern scale(MatchResult example, Optional<MassUnit> unit) {
        return new StreamPattern(example.group("pattern"), unit);
    }

    private static String line(MatchResult example) {
        return example.group("line").replace("<STX>", "\u0002").replace("<SP>", " ");
    }
}
