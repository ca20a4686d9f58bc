package catchbay.app;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Properties;

/** What the program says of itself. */
final class Program {

    private Program() {}

    /** The program's version, as the build wrote it. */
    static String version() {
        try (InputStream in = Program.class.getResourceAsStream("program.properties")) {
            Properties properties = new Properties();
            properties.load(in);
            return properties.getProperty("version");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
