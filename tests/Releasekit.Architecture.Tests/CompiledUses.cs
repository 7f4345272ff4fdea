using System.Reflection;
using System.Reflection.Emit;
using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;
using System.Reflection.PortableExecutable;

namespace Releasekit.Architecture.Tests;

/// <summary>
/// A type of ours, the outermost where it is nested or made by the compiler, and a type or member of another assembly.
/// </summary>
internal readonly record struct Use(string From, string Outside)
{
    public override string ToString() => $"{From} uses {Outside}";
}

/// <summary>
/// What a compiled assembly uses of others: in base types, interfaces,
/// attributes, fields, signatures and method bodies, so that no alias or fully qualified name slips by.
/// </summary>
internal sealed class CompiledUses
{
    private static readonly Dictionary<ushort, OperandType> Operands = typeof(OpCodes)
        .GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(field => (OpCode)field.GetValue(null)!)
        .ToDictionary(code => (ushort)code.Value, code => code.OperandType);

    private readonly MetadataReader _metadata;
    private readonly PEReader _image;
    private readonly HashSet<Use> _uses = [];
    private readonly OutsideTypes _types;
    private string _from = "";

    private CompiledUses(PEReader image)
    {
        (_image, _metadata) = (image, image.GetMetadataReader());
        _types = new OutsideTypes(name => _uses.Add(new Use(_from, name)));
    }

    public static IReadOnlyCollection<Use> Of(Assembly assembly)
    {
        using var image = new PEReader(File.OpenRead(assembly.Location));
        return new CompiledUses(image).Read();
    }

    private HashSet<Use> Read()
    {
        foreach (var type in _metadata.TypeDefinitions.Select(_metadata.GetTypeDefinition))
        {
            _from = OutermostName(type);
            See(type.BaseType);
            foreach (var implemented in type.GetInterfaceImplementations())
            {
                See(_metadata.GetInterfaceImplementation(implemented).Interface);
            }

            foreach (var field in type.GetFields())
            {
                _metadata.GetFieldDefinition(field).DecodeSignature(_types, null);
            }

            See(type.GetCustomAttributes());
            foreach (var method in type.GetMethods().Select(_metadata.GetMethodDefinition))
            {
                Read(method);
            }
        }

        return _uses;
    }

    private void Read(MethodDefinition method)
    {
        method.DecodeSignature(_types, null);
        See(method.GetCustomAttributes());

        if (method.RelativeVirtualAddress == 0)
        {
            return;
        }

        var body = _image.GetMethodBody(method.RelativeVirtualAddress);

        if (!body.LocalSignature.IsNil)
        {
            _metadata.GetStandaloneSignature(body.LocalSignature).DecodeLocalSignature(_types, null);
        }

        foreach (var region in body.ExceptionRegions)
        {
            See(region.CatchType);
        }

        ReadCode(body.GetILReader());
    }

    private void ReadCode(BlobReader code)
    {
        while (code.RemainingBytes > 0)
        {
            ushort op = code.ReadByte();
            op = op == 0xFE ? (ushort)(0xFE00 | code.ReadByte()) : op;

            switch (Operands[op])
            {
                case OperandType.InlineField or OperandType.InlineMethod:
                case OperandType.InlineTok or OperandType.InlineType:
                    See((EntityHandle)MetadataTokens.Handle(code.ReadInt32()));
                    break;
                case OperandType.InlineSwitch:
                    var cases = code.ReadInt32();
                    code.Offset += 4 * cases;
                    break;
                case var operand:
                    code.Offset += SizeOf(operand);
                    break;
            }
        }
    }

    private static int SizeOf(OperandType operand) => operand switch
    {
        OperandType.InlineNone => 0,
        OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
        OperandType.InlineVar => 2,
        OperandType.InlineI8 or OperandType.InlineR => 8,
        _ => 4,
    };

    private void See(CustomAttributeHandleCollection attributes)
    {
        foreach (var attribute in attributes)
        {
            See(_metadata.GetCustomAttribute(attribute).Constructor);
        }
    }

    private void See(EntityHandle handle)
    {
        switch (handle.Kind)
        {
            case HandleKind.TypeReference when !handle.IsNil:
                _types.GetTypeFromReference(_metadata, (TypeReferenceHandle)handle, 0);
                break;
            case HandleKind.TypeSpecification:
                _metadata.GetTypeSpecification((TypeSpecificationHandle)handle).DecodeSignature(_types, null);
                break;
            case HandleKind.MemberReference:
                See(_metadata.GetMemberReference((MemberReferenceHandle)handle));
                break;
            case HandleKind.MethodSpecification:
                var method = _metadata.GetMethodSpecification((MethodSpecificationHandle)handle);
                method.DecodeSignature(_types, null);
                See(method.Method);
                break;
        }
    }

    private void See(MemberReference member)
    {
        See(member.Parent);

        if (member.Parent.Kind is HandleKind.TypeReference)
        {
            var type = _types.GetTypeFromReference(_metadata, (TypeReferenceHandle)member.Parent, 0);
            _uses.Add(new Use(_from, $"{type}.{_metadata.GetString(member.Name)}"));
        }

        if (member.GetKind() is MemberReferenceKind.Field)
        {
            member.DecodeFieldSignature(_types, null);
        }
        else
        {
            member.DecodeMethodSignature(_types, null);
        }
    }

    private string OutermostName(TypeDefinition type)
    {
        while (!type.GetDeclaringType().IsNil)
        {
            type = _metadata.GetTypeDefinition(type.GetDeclaringType());
        }

        var name = _metadata.GetString(type.Name);
        return type.Namespace.IsNil ? name : $"{_metadata.GetString(type.Namespace)}.{name}";
    }
}
