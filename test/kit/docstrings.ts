import { parseAst } from "rolldown/parseAst";

type Statement = ReturnType<typeof parseAst>["body"][number];
type Declared = NonNullable<Extract<Statement, { type: "ExportNamedDeclaration" }>["declaration"]>;
type ClassMember = Extract<Declared, { superClass: unknown }>["body"]["body"][number];
type DoorMember = Extract<Declared, { type: "TSInterfaceDeclaration" }>["body"]["body"][number];
type Arrow = Extract<
  NonNullable<Extract<Declared, { declarations: unknown }>["declarations"][number]["init"]>,
  { type: "ArrowFunctionExpression" }
>;
type Callable = Pick<Arrow, "params" | "returnType"> & { readonly body?: unknown };
type Parameter = Callable["params"][number];
type Type = NonNullable<Callable["returnType"]>["typeAnnotation"];

/** An exported function, or a method of an exported class or interface, with the comment over it. */
export interface PublicFunction {
  /** Methods of an interface often say all by their names; only their numbers must be explained. */
  readonly of: "code" | "interface";
  readonly name: string;
  /** Counts from 1. */
  readonly line: number;
  /** The docstring's text without its stars, "" where there is none. */
  readonly doc: string;
  /** Names of all parameters, and of the fields of inline object parameters. */
  readonly parameters: readonly string[];
  /** Parameters, and fields of inline object parameters, whose type is a bare `number`. */
  readonly numbers: readonly string[];
  readonly returnsNumber: boolean;
  readonly mayBeUndefined: boolean;
  readonly mayBeRefused: boolean;
  readonly throws: boolean;
}

/** Every public function that a source text declares. */
export const publicFunctions = (source: string): readonly PublicFunction[] =>
  parseAst(source, { lang: "ts" }).body.flatMap((statement) => {
    if (statement.type !== "ExportNamedDeclaration" || !statement.declaration) return [];
    const of = statement.declaration.type === "TSInterfaceDeclaration" ? "interface" : "code";
    return declared(statement.declaration).map(({ name, at, callable }) => ({
      of,
      ...described(source, name, at ?? statement.start, callable),
    }));
  });

interface Declaration {
  readonly name: string;
  /** Where it begins, if that is not where the statement begins. */
  readonly at: number | undefined;
  readonly callable: Callable;
}

const declared = (declaration: Declared): readonly Declaration[] => {
  switch (declaration.type) {
    case "FunctionDeclaration":
      return [{ name: declaration.id?.name ?? "", at: undefined, callable: declaration }];
    case "ClassDeclaration":
      return declaration.implements?.length ? [] : declaration.body.body.flatMap(methods);
    case "TSInterfaceDeclaration":
      return declaration.body.body.flatMap(doorMethods);
    case "VariableDeclaration":
      return declaration.declarations.flatMap(({ id, init }) =>
        id.type === "Identifier" && (init?.type === "ArrowFunctionExpression" || init?.type === "FunctionExpression")
          ? [{ name: id.name, at: undefined, callable: init }]
          : [],
      );
    default:
      return [];
  }
};

const methods = (member: ClassMember): readonly Declaration[] =>
  member.type === "MethodDefinition" &&
  member.kind === "method" &&
  member.key.type === "Identifier" &&
  (member.accessibility ?? "public") === "public"
    ? [{ name: member.key.name, at: member.start, callable: member.value }]
    : [];

const doorMethods = (member: DoorMember): readonly Declaration[] => {
  if (member.type !== "TSMethodSignature" && member.type !== "TSPropertySignature") return [];
  const type = member.type === "TSPropertySignature" ? member.typeAnnotation?.typeAnnotation : undefined;
  const callable = member.type === "TSMethodSignature" ? member : type?.type === "TSFunctionType" ? type : undefined;
  return callable && member.key.type === "Identifier" ? [{ name: member.key.name, at: member.start, callable }] : [];
};

const described = (source: string, name: string, at: number, callable: Callable): Omit<PublicFunction, "of"> => {
  const returned = callable.returnType?.typeAnnotation;
  const parts = returned ? unionOf(unwrapped(returned)) : [];
  return {
    name,
    line: source.slice(0, at).split("\n").length,
    doc: docBefore(source, at),
    parameters: callable.params.flatMap(namesIn),
    numbers: callable.params.flatMap(bareNumbers),
    returnsNumber: parts.some(isNumber),
    mayBeUndefined: parts.some(({ type }) => type === "TSUndefinedKeyword"),
    mayBeRefused: parts.some((type) => nameOf(type) === "Result"),
    throws: throwsIn(callable.body, source),
  };
};

/** The text of the comment that ends right above this place. */
const docBefore = (source: string, at: number): string => {
  const above = source.slice(0, at).trimEnd();
  if (!above.endsWith("*/")) return "";
  const text = above.slice(above.lastIndexOf("/*"));
  return text.startsWith("/**")
    ? text
        .slice(3, -2)
        .replaceAll(/^\s*\* ?/gm, "")
        .trim()
    : "";
};

const nameOf = (type: Type): string | undefined =>
  type.type === "TSTypeReference" && type.typeName.type === "Identifier" ? type.typeName.name : undefined;

/** What a promise will be, or the type itself. */
const unwrapped = (type: Type): Type =>
  type.type === "TSTypeReference" && nameOf(type) === "Promise" ? (type.typeArguments?.params[0] ?? type) : type;

const unionOf = (type: Type): readonly Type[] => (type.type === "TSUnionType" ? type.types : [type]);

/** A bare number, or a list of them, or one that may be left out. */
const isNumber = (type: Type | undefined): boolean =>
  type !== undefined && unionOf(type).some((one) => elementOf(one).type === "TSNumberKeyword");

const elementOf = (type: Type): Type =>
  type.type === "TSTypeOperator"
    ? elementOf(type.typeAnnotation)
    : type.type === "TSArrayType"
      ? elementOf(type.elementType)
      : type;

interface NamedType {
  readonly name: string;
  readonly type: Type | undefined;
}

/** A parameter by its name; of an object that is written out in place, its fields instead. */
const typedNames = (parameter: Parameter): readonly NamedType[] => {
  const bare = parameter.type === "AssignmentPattern" ? parameter.left : parameter;
  if (!("typeAnnotation" in bare)) return [];
  const type = bare.typeAnnotation?.typeAnnotation;
  if (type?.type === "TSTypeLiteral")
    return type.members.flatMap((member) =>
      member.type === "TSPropertySignature" && member.key.type === "Identifier"
        ? [{ name: member.key.name, type: member.typeAnnotation?.typeAnnotation }]
        : [],
    );
  return bare.type === "Identifier" ? [{ name: bare.name, type }] : [];
};

const bareNumbers = (parameter: Parameter): readonly string[] =>
  typedNames(parameter)
    .filter(({ type }) => isNumber(type))
    .map(({ name }) => name);

/** Every name that a parameter has or takes apart. */
const namesIn = (parameter: Parameter): readonly string[] => {
  if (parameter.type === "RestElement" && parameter.argument.type === "Identifier") return [parameter.argument.name];
  const bare = parameter.type === "AssignmentPattern" ? parameter.left : parameter;
  const taken =
    bare.type === "ObjectPattern"
      ? bare.properties.flatMap((one) =>
          one.type === "Property" && one.key.type === "Identifier" ? [one.key.name] : [],
        )
      : [];
  return [...typedNames(parameter).map(({ name }) => name), ...taken];
};

/** Whether something is thrown within, other than that we ourselves are wrong ("Bug: ..."), or a promise is rejected. */
const throwsIn = (node: unknown, source: string): boolean => {
  if (Array.isArray(node)) return node.some((one) => throwsIn(one, source));
  if (typeof node !== "object" || node === null) return false;
  if ("type" in node && "start" in node && "end" in node) {
    const text = source.slice(Number(node.start), Number(node.end));
    if (node.type === "ThrowStatement") return !/^throw new \w+\(\s*["'`]Bug: /.test(text);
    if (node.type === "CallExpression" && text.startsWith("Promise.reject(")) return true;
  }
  return Object.values(node).some((child) => throwsIn(child, source));
};
