// Another program that holds a database until its standard input ends. Arguments: file, SQL that takes the lock.
import { DatabaseSync } from "@photostructure/sqlite";

const [file, sql] = process.argv.slice(2);
const database = new DatabaseSync(file);
database.exec(sql);
process.stdout.write("held\n");
// Closed by name: a database that nothing mentions any more is garbage, and its lock goes with it.
process.stdin.resume().on("end", () => database.close());
